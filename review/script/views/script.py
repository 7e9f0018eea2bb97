"""The script screen: a draft's laid-out pages, and where notes stand on them. The cards come when they are needed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.contrib.messages import get_messages
from django.http import HttpResponse
from django.middleware.csrf import get_token
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from review.access import Deed, may
from review.cards.note_cards import note_cards
from review.drafts.at_address import draft_or_404
from review.drafts.drawn_pages import draw_pages
from review.drafts.models import Draft
from review.drafts.visits import be_at, line_left_at, new_since, visits_of
from review.notes.forms import kept_key
from review.notes.models import Note
from review.people.guard import members_who_may
from review.requests import INVALID
from review.script.forms import LineInViewForm, NoteForm
from review.script.leaves import leaves, scene_list
from review.script.looks import LEADINGS, SIZES, Looks
from review.script.note_marks import SHOWINGS, in_short, note_marks
from review.script.unchanged import unless_unchanged

if TYPE_CHECKING:
    from collections.abc import Sequence

    from django.http import HttpRequest

    from review.people.models import Member
    from review.requests import Request
    from review.script.note_marks import NoteMark

NO_CONTENT = 204
READING_ON = settings.BASE_DIR / "static" / "js" / "reading-on.js"


@require_safe
@members_who_may(Deed.READ)
def script_current(request: Request, member: Member) -> HttpResponse:
    """The current draft's script, where the member last was in it, or a page that says there is none yet."""
    draft = member.production.drafts.current()
    if draft is None:
        context = {"member": member, "may_publish": may(member, Deed.PUBLISH)}
        return render(request, "script/script_none.html", context)
    line = line_left_at(visits_of(member), draft)
    address = reverse("script", args=[member.production.public_id, draft.number])
    return redirect(f"{address}#L{line}" if line else address)


@require_safe
@members_who_may(Deed.READ)
def script(request: Request, member: Member, number: int) -> HttpResponse:
    """One draft's pages, and where the notes stand that this member may read on it.

    `notes` says which of them are shown at first; `note` names one whose card is there from the start, and has what the
    reader is to be told: the page opens on it, and not at its head. `size` and `leading` are how the reader wants it to
    look from now on.
    """
    if "size" in request.GET:
        return _look_so(request)
    drafts = drafts_of(member)
    draft = draft_or_404(member, number, with_text=False)
    drawn = draw_pages(draft)
    visits = visits_of(member)
    since = new_since(visits, timezone.now())
    marks = note_marks(member, draft, drawn, since)
    token = get_token(request)
    told = list(get_messages(request))
    more = {"csrf_token": token, "new_since": since, "told_here": told}
    given = _asked_for(request.GET.get("note", ""), member, draft, marks, more)
    context = {
        "member": member,
        "draft": draft,
        "drafts": drafts,
        "is_current": drafts[0].number == draft.number,
        "page_count": drawn.page_count,
        "scene_count": len(drawn.scenes),
        "scenes": scene_list(drawn.scenes),
        "leaves": leaves(drawn, member.production.script_language, given),
        "marks": in_short(marks),
        "gone": sum(mark.is_gone for mark in marks),
        "showing": showing_asked_for(request),
        "showings": SHOWINGS.items(),
        "counts": {
            "all": len(marks),
            "open": sum(mark.is_open for mark in marks),
            "new": sum(mark.is_new for mark in marks),
        },
        "line_left": line_left_at(visits, draft),
        "has_before": any(other.number < number for other in drafts),
        "characters": drawn.characters,
        "looks": Looks.asked_for(request),
        "sizes": SIZES.items(),
        "leadings": LEADINGS.items(),
        "may_mark": may(member, Deed.MARK),
        "blank_form": NoteForm(author=member, draft=draft) if may(member, Deed.NOTE) else None,
        "kept_beginning": kept_key(member, draft.number, "note", ""),
        "csrf_token": token,
        "messages": [] if given else told,
    }
    response = render(request, "script/script.html", context)
    response["Kept-For"] = member.person.public_id
    return unless_unchanged(request, response, but_for=token)


@require_safe
@login_not_required
def reading_on(request: HttpRequest) -> HttpResponse:
    """The service worker of the scripts, at an address that says for which pages it is."""
    return HttpResponse(READING_ON.read_bytes(), content_type="text/javascript", headers={"Cache-Control": "no-cache"})


def _look_so(request: Request) -> HttpResponse:
    """The same page in another size, from now on: for whoever's browser runs no scripts."""
    response = redirect(request.path)
    Looks.of(request.GET["size"], request.GET.get("leading", "")).keep(response)
    return response


@require_POST
@members_who_may(Deed.READ)
def line_in_view(request: Request, member: Member, number: int) -> HttpResponse:
    """Keep the line that the reader is at, for the next time, on whichever device."""
    draft = draft_or_404(member, number, with_text=False)
    form = LineInViewForm(request.POST)
    if not form.is_valid():
        return HttpResponse("That is no line of the script.", status=INVALID)
    be_at(member, draft, form.cleaned_data["line"])
    return HttpResponse(status=NO_CONTENT)


def drafts_of(member: Member) -> list[Draft]:
    """The drafts that stand, the latest first, without their texts."""
    drafts = Draft.objects.standing().filter(production_id=member.production_id)
    return list(drafts.defer("text", "line_origins").order_by("-number"))


def showing_asked_for(request: Request) -> str:
    showing = request.GET.get("notes", "all")
    return showing if showing in SHOWINGS else "all"


def _asked_for(
    public_id: str, member: Member, draft: Draft, marks: Sequence[NoteMark], more: dict[str, Any]
) -> dict[int, str]:
    """The card of the note that the address names, for the margin of its page."""
    mark = next((mark for mark in marks if mark.public_id == public_id), None)
    if mark is None or mark.page is None:
        return {}
    card = note_cards(member, Note.objects.filter(pk=mark.pk), draft)[0]
    context = {"member": member, "draft": draft, "card": card, "forms_asked_for": True} | more
    return {mark.page: render_to_string("cards/card.html", context)}
