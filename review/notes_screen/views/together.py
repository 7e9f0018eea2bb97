"""Deciding several notes in one go, and being told which of them stands in the way."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.contrib import messages
from django.core.exceptions import NON_FIELD_ERRORS
from django.http import QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST
from django_htmx.http import HttpResponseClientRedirect

from review.access import Deed
from review.cards.note_cards import note_cards
from review.decisions.acts import DecidedMeanwhile, Deciding, NeedsReason, WithdrawnMeanwhile
from review.decisions.together import NotTogether, decide_together
from review.notes.acts import ChangedMeanwhile
from review.notes.models import Note
from review.notes_screen.forms import TogetherForm
from review.notes_screen.notes_on_lines import AlikeNotes
from review.people.guard import members_who_may
from review.requests import CONFLICT, INVALID, page_asked_for

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request

NOTHING_DECIDED = "None of them was decided. What you chose and wrote is still here."


@require_POST
@members_who_may(Deed.DECIDE)
def together(request: Request, member: Member) -> HttpResponse:
    """Decide the notes that are ticked. What cannot be done comes back as it was filled in, with a sentence why."""
    form = TogetherForm(request.POST, by=member)
    if not form.is_valid():
        return _show(request, member, form, INVALID)
    said = form.cleaned_data
    deciding = Deciding(said["outcome"], said["reason"], with_wording=said["put_in"])
    try:
        decisions = decide_together(member, form.shown, deciding, said["form_id"])
    except NotTogether as refused:
        form.add_error(None, f"{_why(refused)} {NOTHING_DECIDED}")
        return _show(request, member, form, CONFLICT)
    notes = "One note" if len(decisions) == 1 else f"{len(decisions)} notes, each by itself"
    messages.success(request, f"{decisions[0].word}: {notes}. The decision stands at each.")
    address = _page_at(request, member, said["then"] or decisions[0].note.public_id)
    return HttpResponseClientRedirect(address) if request.htmx else redirect(address)


def _page_at(request: Request, member: Member, public_id: str) -> str:
    """The page that the form came from, where it shows a note."""
    path, _, query = (page_asked_for(request) or _notes(member)).partition("#")[0].partition("?")
    asked = QueryDict(query, mutable=True)
    asked["at"] = public_id
    return f"{path}?{asked.urlencode()}#note-{public_id}"


def _notes(member: Member) -> str:
    return reverse("notes", args=[member.production.public_id])


def _why(refused: NotTogether) -> str:
    author, kind = refused.note.author_name, refused.note.get_kind_display().lower()
    whose = f"{author}’s note ({kind})"
    match refused.why:
        case ChangedMeanwhile():
            return f"{author} changed what {whose} says while you were deciding."
        case DecidedMeanwhile(latest=latest):
            return f"{latest.decided_by.name} decided {whose} meanwhile: {latest.word.lower()}."
        case WithdrawnMeanwhile():
            return f"{author} withdrew the note ({kind}) while you were deciding."
        case NeedsReason():
            return f"Say why you decline {whose}."
        case _:
            return f"The wording of {whose} does not go into the pages as they are now, or out of them."


def _show(request: Request, member: Member, form: TogetherForm, status: int) -> HttpResponse:
    draft = member.production.drafts.current()
    asked = Note.objects.filter(pk__in=[each.note.pk for each in form.shown]).not_withdrawn()
    cards = [card for card in note_cards(member, asked, draft) if card.may.decide] if draft else []
    context: dict[str, Any] = {
        "member": member,
        "draft": draft,
        "form": form,
        "why": form.errors.get(NON_FIELD_ERRORS, []),
        "alike": AlikeNotes(tuple(cards), tuple(cards)) if cards else None,
        "next": page_asked_for(request) or _notes(member),
    }
    whole = not request.htmx or not cards
    return render(request, "notes_screen/together.html" if whole else "notes_screen/alike.html", context, status=status)
