"""One note: looking at it with its thread, taking it back, and putting it back."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.contrib import messages
from django.contrib.messages import get_messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from review.access import Deed, may
from review.cards.addresses import script_address
from review.cards.note_cards import card_of, shown_draft
from review.notes import acts
from review.notes.markdown import render_markdown
from review.notes.models import Note
from review.notes_screen.models import Look
from review.people.guard import members_who_may

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.cards.note_card import NoteCard
    from review.notes_screen.forms import ReplyForm
    from review.people.models import Member
    from review.requests import Request

FORMS = {
    "reply": "cards/reply_fields.html",
    "decide": "cards/deciding.html",
    "withdraw": "cards/withdraw_form.html",
}


@require_safe
@members_who_may(Deed.READ)
def note(request: Request, member: Member, public_id: str) -> HttpResponse:
    """One note with its thread, on the draft named by `shown` or else its own; of its card alone the form that `form`
    names, for a card that came without its forms."""
    found = Note.objects.visible_to(member).select_related("draft").filter(public_id=public_id).first()
    if found is None:
        return _gone_with_its_draft(request, member, public_id)
    found.draft.production = member.production
    context = note_page_context(request, member, found)
    if request.htmx and (form := request.GET.get("form")):
        return _form_of_card(request, form, context)
    return render(request, fragment_of(request) if request.htmx else "notes_screen/note.html", context)


def _form_of_card(request: Request, name: str, context: dict[str, Any]) -> HttpResponse:
    """A form of the card, for whoever may send it; a decision leads back to the script."""
    card: NoteCard = context["card"]
    offered = {"reply": card.may.reply, "decide": card.may.decide, "withdraw": card.may.withdraw}
    if not offered.get(name):
        raise Http404("There is no such form on this note's card")
    context["next"] = reverse("script", args=[card.draft.production.public_id, card.draft.number])
    return render(request, FORMS[name], context)


def _gone_with_its_draft(request: HttpRequest, member: Member, public_id: str) -> HttpResponse:
    """What its author is told of a note that went with the draft it was left on, and nobody else."""
    notes = Note.objects.gone_with_a_draft(member).select_related("draft__withdrawn_by__person").defer("draft__text")
    found = get_object_or_404(notes, public_id=public_id)
    context = {
        "member": member,
        "note": found,
        "draft": found.draft,
        "body_html": render_markdown(found.body),
        "may_publish": may(member, Deed.PUBLISH),
        "current": member.production.drafts.defer("text").current(),
    }
    return render(request, "notes_screen/note_of_withdrawn.html", context)


@require_POST
@members_who_may(Deed.NOTE)
def note_withdraw(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Take back one's own note."""
    found = get_object_or_404(Note.objects.visible_to(member), public_id=public_id)
    acts.withdraw_note(member, found)
    if not request.htmx:
        messages.success(request, "Your note is withdrawn. Nobody else can read it now.")
    return answer_with_card(request, member, found)


@require_POST
@members_who_may(Deed.NOTE)
def note_put_back(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Put back one's own note after withdrawing it."""
    found = get_object_or_404(Note.objects.visible_to(member), public_id=public_id)
    acts.put_note_back(member, found)
    if not request.htmx:
        messages.success(request, "Your note is back, as it was.")
    return answer_with_card(request, member, found)


def note_page_context(
    request: Request, member: Member, note: Note, reply_form: ReplyForm | None = None
) -> dict[str, Any]:
    """What the note's page and its card need; `shown`, in the address or the form, names the draft looked at."""
    number = request.POST.get("shown") or request.GET.get("shown")
    card = card_of(member, note, shown_draft(member, note, number))
    return {"member": member, "card": card, "draft": card.draft, "reply_form": reply_form, "is_unfolded": True}


def is_in_a_list(request: Request) -> bool:
    """Whether the page that asks by htmx has the notes in a compact list."""
    return bool(request.htmx) and (request.POST.get("look") or request.GET.get("look")) == Look.COMPACT


def fragment_of(request: Request) -> str:
    """What shows a note in the page that asks by htmx: its row of a list, or else its card."""
    return "notes_screen/row.html" if is_in_a_list(request) else "cards/card.html"


def answer_with_card(request: Request, member: Member, note: Note, told: str = "") -> HttpResponse:
    """The note's fresh card for a page that asked by htmx; otherwise the note's place on the script screen. `told` is
    what the card says of what was sent."""
    if told:
        messages.info(request, told)
    if request.htmx:
        context = note_page_context(request, member, note)
        context["told_here"] = get_messages(request) if told else []
        return render(request, fragment_of(request), context)
    return redirect(script_address(member, shown_draft(member, note, request.POST.get("shown")), note))
