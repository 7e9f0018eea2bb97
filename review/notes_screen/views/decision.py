"""Deciding a note, opening it again, and being told when somebody else has decided it meanwhile."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.template.loader import render_to_string
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST

from review.access import Deed
from review.cards.note_cards import card_of, shown_draft
from review.decisions import acts
from review.decisions.models import Outcome
from review.notes.acts import ChangedMeanwhile
from review.notes.models import Note
from review.notes_screen.forms import DecisionForm, ReopenForm
from review.notes_screen.neighbouring_wordings import neighbouring_wordings
from review.notes_screen.views.notes import note_on_screen
from review.people.guard import members_who_may
from review.rewriting.wordings import CannotTake, WrittenOver

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request

LONGEST_ADDRESS = 1_000  # characters of a page to come back to


@require_POST
@members_who_may(Deed.DECIDE)
def decide(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Decide a note. What cannot be done comes back with the form as it was filled in and a sentence that says why."""
    note = get_object_or_404(Note.objects.visible_to(member), public_id=public_id)
    form = DecisionForm(request.POST, note=note)
    if not form.is_valid():
        return _show(request, member, note, 422, form=form)
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
        return _show(request, member, note, 409, form=form, changed_meanwhile=True)
    except acts.DecidedMeanwhile as conflict:
        return _show(request, member, note, 409, form=form, meanwhile=conflict.latest)
    except acts.WithdrawnMeanwhile:
        return _show(request, member, note, 409, form=form, withdrawn_meanwhile=True)
    except CannotTake:
        return _show(request, member, note, 409, form=form, not_taken=True)
    except WrittenOver as found:
        return _show(request, member, note, 409, form=form, written_over=found.taken)
    is_in = decision.outcome == Outcome.ACCEPTED and form.with_wording
    done = "Its wording is in the working draft, and the" if is_in else "The"
    sentence = f"{decision.word}. {done} decision now stands at the note."
    return _answer(request, member, note, sentence, with_wording=form.with_wording)


@require_POST
@members_who_may(Deed.DECIDE)
def decision_reopen(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Open a decided note again. Its wording, if it is in the working draft, comes out in the same step."""
    note = get_object_or_404(Note.objects.visible_to(member), public_id=public_id)
    form = ReopenForm(request.POST)
    if not form.is_valid():
        return _show(request, member, note, 422)
    said = form.cleaned_data
    try:
        acts.decide(member, note, Outcome.REOPENED, "", said["seen"], said["form_id"], with_wording=said["take_out"])
    except acts.DecidedMeanwhile as conflict:
        return _show(request, member, note, 409, meanwhile=conflict.latest)
    except (acts.WithdrawnMeanwhile, acts.IsOpen):
        return _show(request, member, note, 409)
    except WrittenOver as found:
        return _show(request, member, note, 409, written_over=found.taken, reopening=True)
    return _answer(request, member, note, "The note is open again.", with_wording=said["take_out"])


def _answer(request: Request, member: Member, note: Note, sentence: str, *, with_wording: bool) -> HttpResponse:
    """The fresh decision for a page that asked by htmx; otherwise the way back to where the form was.

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
    messages.success(request, sentence)
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
    context |= {"member": member, "card": card, "draft": card.draft, "next": _asked_for(request)}
    template = "cards/decision.html" if request.htmx else "notes_screen/note.html"
    return render(request, template, context, status=status)


def _way_back(request: Request, member: Member, note: Note) -> str:
    """The page the decider came from, or else the notes screen, at the note."""
    page = _asked_for(request).partition("#")[0]
    return f"{page}#note-{note.public_id}" if page else note_on_screen(member, note)


def _asked_for(request: Request) -> str:
    """Where the form asks to come back to, if that is a page of this site, by its path."""
    asked = request.POST.get("next", "")
    is_ours = url_has_allowed_host_and_scheme(
        asked, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return asked if is_ours and asked.startswith("/") and len(asked) <= LONGEST_ADDRESS else ""
