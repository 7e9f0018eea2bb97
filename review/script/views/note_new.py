"""Leaving a note: the form on lines of a draft, and what it sends."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.contrib.messages import get_messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods
from django_htmx.http import HttpResponseClientRedirect, reswap, retarget, trigger_client_event

from review.access import Deed
from review.cards.addresses import script_address
from review.cards.note_cards import card_of
from review.drafts.at_address import draft_or_404
from review.drafts.drawn_pages import draw_pages
from review.notes import acts
from review.notes.models import Note, Subject
from review.notes.pace import TooFast
from review.notes.subjects import cue_of
from review.people.guard import members_who_may
from review.requests import CONFLICT, INVALID, TOO_MANY
from review.script.forms import LinesForm, NoteForm
from review.script.leaves import margin_id
from review.script.offered_lines import offered_lines

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.cards.note_card import NoteCard
    from review.drafts.models import Draft
    from review.people.models import Member
    from review.requests import Request

LEFT_ALREADY = "You left this note already. Here it is: it counts once."
WITHDRAWN_SINCE = "You left this note already, and have withdrawn it since."


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.NOTE)
def note_new(request: Request, member: Member, number: int) -> HttpResponse:
    """The form for a note on lines of a draft, and what it sends. `look` shows the form on other lines.

    `about`, in the address, chooses a scene or a character beforehand; a character alone stands for their first cue.
    `page` names the page whose lines are offered where none are chosen yet.
    """
    draft = draft_or_404(member, number)
    if request.method != "POST":
        return _form_on_lines(request, member, draft)
    form = NoteForm(request.POST, author=member, draft=draft)
    if "look" in request.POST:
        form.is_valid()
        return _show_form(request, form.looked_at() if form.span else form, 200 if form.span else INVALID)
    if not form.is_valid():
        return _show_form(request, form, INVALID)
    try:
        left = _leave(member, draft, form)
    except TooFast as refusal:
        form.add_error(None, str(refusal))
        return _show_form(request, form, TOO_MANY)
    if left.came_otherwise:
        return _show_form(request, form.renewed(), CONFLICT)
    return _answer_new_note(request, member, draft, left)


def _form_on_lines(request: Request, member: Member, draft: Draft) -> HttpResponse:
    about = request.GET.get("about", Subject.LINES)
    if "from" not in request.GET and (cue := cue_of(draft, about)):
        return _show_form(request, NoteForm.on_lines(member, draft, cue, about=about))
    lines = LinesForm(request.GET if "from" in request.GET else None, draft=draft)
    if lines.is_valid() and lines.span:
        return _show_form(request, NoteForm.on_lines(member, draft, lines.span, about=about))
    form = NoteForm(author=member, draft=draft)
    return _show_form(request, form, INVALID if lines.is_bound else 200, lines=lines)


def _show_form(request: Request, form: NoteForm, status: int = 200, lines: LinesForm | None = None) -> HttpResponse:
    template = "script/note_form.html" if request.htmx else "script/note_new.html"
    beside = "beside" in request.POST if request.method == "POST" else bool(request.htmx)
    context = {
        "member": form.author,
        "draft": form.draft,
        "form": form,
        "lines": lines or form,
        "beside": beside,
        "offered": offered_lines(form.draft, form.span, request.GET.get("page", "")),
    }
    return render(request, template, context, status=status)


def _leave(member: Member, draft: Draft, form: NoteForm) -> Note:
    said = form.cleaned_data
    return acts.leave_note(
        member,
        draft,
        said["span"],
        said["kind"],
        said["body"],
        said["wording"],
        said["audience"],
        subject=said["subject"],
        character=said["character"],
        form_id=said["form_id"],
    )


def _answer_new_note(request: Request, member: Member, draft: Draft, left: Note) -> HttpResponse:
    """The new card for its margin on the script screen; for the form's own page, the note's place on that screen. Of
    one that was there, its card says so."""
    if left.came_again:
        messages.info(request, LEFT_ALREADY if left.withdrawn_at is None else WITHDRAWN_SINCE)
    if not request.htmx:
        return redirect(script_address(member, draft, left))
    card = card_of(member, left, draft)
    margin = _margin_of(draft, card)
    if "beside" not in request.POST or margin is None:
        return HttpResponseClientRedirect(script_address(member, draft, left))
    context = {"member": member, "card": card, "draft": draft, "forms_asked_for": True}
    context["told_here"] = get_messages(request) if left.came_again else []
    response = render(request, "cards/card.html", context)
    retarget(response, f"#{margin}")
    reswap(response, "beforeend")
    told = {"note": left.public_id, "cameAgain": left.came_again}
    return trigger_client_event(response, "noteLeft", told, after="settle")


def _margin_of(draft: Draft, card: NoteCard) -> str | None:
    """The id of the margin where the card stands on the draft's script, None where it stands in none."""
    drawn, at = draw_pages(draft), card.stands.at
    line = drawn.first_printed(at.first_line, at.last_line) if at else None
    return None if line is None else margin_id(drawn.pages[drawn.page_of[line]])
