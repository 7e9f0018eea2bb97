"""Deciding a note, opening it again, and being told when somebody else has decided it meanwhile."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.template.loader import render_to_string
from django.views.decorators.http import require_POST

from review.access import Deed
from review.cards.came_to import what_they_came_to
from review.cards.note_cards import card_of, shown_draft
from review.decisions import acts
from review.decisions.models import Outcome
from review.decisions.undoing import IsWrittenIn, undo
from review.notes.acts import ChangedMeanwhile
from review.notes.models import Note
from review.notes_screen.forms import DecisionForm, ReopenForm, UndoForm
from review.notes_screen.neighbouring_wordings import neighbouring_wordings
from review.notes_screen.views.note import is_in_a_list
from review.notes_screen.views.notes import note_on_screen
from review.people.guard import members_who_may
from review.requests import CONFLICT, INVALID, page_asked_for
from review.rewriting.wordings import CannotTake, WrittenOver

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.http import HttpResponse

    from review.decisions.models import Decision
    from review.people.models import Member
    from review.requests import Request


DECIDED_SINCE = "This was decided again since, so the earlier decision is not taken back. Nothing was changed."
WITHDRAWN_SINCE = "A note of these was withdrawn since, so the decision stays as it is. Nothing was changed."
WRITTEN_IN = "A draft that was put up answers this note, and a draft is not changed. You can decide the note again."
WORDS_CHANGED = (
    "The words in the working draft have been changed since, so that they do not go back by themselves. Nothing was"
    " changed: mend them in their scene, or decide the note again."
)


@require_POST
@members_who_may(Deed.DECIDE)
def decide(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Decide a note. What cannot be done comes back with the form as it was filled in and a sentence that says why."""
    note = get_object_or_404(Note.objects.visible_to(member), public_id=public_id)
    form = DecisionForm(request.POST, note=note)
    if not form.is_valid():
        return _show(request, member, note, INVALID, form=form)
    cleaned = form.cleaned_data
    try:
        decision = acts.decide(
            member,
            note,
            cleaned["outcome"],
            cleaned["reason"],
            cleaned["seen"],
            cleaned["form_id"],
            with_wording=form.with_wording,
            read=cleaned["version"],
        )
    except ChangedMeanwhile:
        return _show(request, member, note, CONFLICT, form=form, changed_meanwhile=True)
    except acts.DecidedMeanwhile as conflict:
        return _show(request, member, note, CONFLICT, form=form, meanwhile=conflict.latest)
    except acts.WithdrawnMeanwhile:
        return _show(request, member, note, CONFLICT, form=form, withdrawn_meanwhile=True)
    except CannotTake:
        return _show(request, member, note, CONFLICT, form=form, not_taken=True)
    except WrittenOver as found:
        return _show(request, member, note, CONFLICT, form=form, written_over=found.taken)
    told = partial(_decided, member, decision, with_wording=form.with_wording)
    return _answer(request, member, note, told, with_wording=form.with_wording)


def _decided(member: Member, decision: Decision, *, with_wording: bool) -> str:
    done = (
        "Its wording is in the working draft, and the"
        if decision.outcome == Outcome.ACCEPTED and with_wording
        else "The"
    )
    return f"{what_they_came_to(member, [decision])[decision.note_id].words}. {done} decision now stands at the note."


@require_POST
@members_who_may(Deed.DECIDE)
def decision_reopen(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Open a decided note again. Its wording, if it is in the working draft, comes out in the same step."""
    note = get_object_or_404(Note.objects.visible_to(member), public_id=public_id)
    form = ReopenForm(request.POST)
    if not form.is_valid():
        return _show(request, member, note, INVALID)
    said = form.cleaned_data
    try:
        acts.decide(member, note, Outcome.REOPENED, "", said["seen"], said["form_id"], with_wording=said["take_out"])
    except acts.DecidedMeanwhile as conflict:
        return _show(request, member, note, CONFLICT, meanwhile=conflict.latest)
    except (acts.WithdrawnMeanwhile, acts.IsOpen):
        return _show(request, member, note, CONFLICT)
    except WrittenOver as found:
        return _show(request, member, note, CONFLICT, written_over=found.taken, reopening=True)
    return _answer(request, member, note, lambda: "The note is open again.", with_wording=said["take_out"])


@require_POST
@members_who_may(Deed.DECIDE)
def decision_undo(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Take back a decision, with those made together with it; what stands in the way is said at its note."""
    note = get_object_or_404(Note.objects.visible_to(member), public_id=public_id)
    form = UndoForm(request.POST)
    if not form.is_valid():
        return _show(request, member, note, INVALID)
    decision = get_object_or_404(note.decisions.select_related("note"), public_id=form.cleaned_data["decision"])
    try:
        undone = undo(member, decision, form.cleaned_data["form_id"])
    except acts.DecidedMeanwhile:
        return _show(request, member, note, CONFLICT, refused=DECIDED_SINCE)
    except acts.WithdrawnMeanwhile:
        return _show(request, member, note, CONFLICT, refused=WITHDRAWN_SINCE)
    except IsWrittenIn:
        return _show(request, member, note, CONFLICT, refused=WRITTEN_IN)
    except (CannotTake, WrittenOver):
        return _show(request, member, note, CONFLICT, refused=WORDS_CHANGED)
    which = f"{len(undone)} decisions are" if len(undone) > 1 else "The decision is"
    messages.success(request, f"{which} taken back, and all is as it was before.")
    return redirect(_way_back(request, member, note))


def _answer(
    request: Request, member: Member, note: Note, told: Callable[[], str], *, with_wording: bool
) -> HttpResponse:
    """The fresh decision for a page that asked by htmx; otherwise the way back to where the form was, with a sentence.

    A page that shows the note's scene is told that its words may have changed, and the wordings of other notes near it
    get with it how they now stand to the pages.
    """
    if request.htmx:
        answer = _show(request, member, note, 200)
        answer["HX-Trigger"] = "note-decided"
        if with_wording and note.wording is not None:
            answer["HX-Trigger"] = "note-decided, words-changed"
            answer.write(_neighbouring_wordings(request, member, note))
        return answer
    messages.success(request, told())
    return redirect(_way_back(request, member, note))


def _neighbouring_wordings(request: Request, member: Member, note: Note) -> str:
    card = card_of(member, note, shown_draft(member, note, request.POST.get("shown")))
    return render_to_string(
        "notes_screen/neighbouring_wordings.html",
        {"member": member, "neighbours": neighbouring_wordings(card)},
        request,
    )


def _show(request: Request, member: Member, note: Note, status: int, **context: Any) -> HttpResponse:
    """The note's decision alone for a page that asked by htmx, otherwise a page with the note and nothing else."""
    card = card_of(member, note, shown_draft(member, note, request.POST.get("shown")))
    context |= {"member": member, "card": card, "draft": card.draft, "next": page_asked_for(request)}
    if is_in_a_list(request) and (status == 200 or request.htmx.target == f"note-{note.public_id}"):
        return _row(request, context, status)
    template = "cards/decision.html" if request.htmx else "notes_screen/note.html"
    return render(request, template, context, status=status)


def _row(request: Request, context: dict[str, Any], status: int) -> HttpResponse:
    """The note's row of a compact list, unfolded where there is something to be seen to."""
    answer = render(request, "notes_screen/row.html", context | {"is_unfolded": status != 200}, status=status)
    answer["HX-Retarget"] = f"#note-{context['card'].note.public_id}"
    return answer


def _way_back(request: Request, member: Member, note: Note) -> str:
    """The page the decider came from, or else the notes screen, at the note."""
    page = page_asked_for(request).partition("#")[0]
    return f"{page}#note-{note.public_id}" if page else note_on_screen(member, note)
