"""A member changing what their own note on a paper says, or correcting it once somebody has answered it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from review.access import Deed
from review.notes.acts import AnsweredMeanwhile, ChangedMeanwhile
from review.notes.forms import ANSWERED_SINCE, CHANGED_SINCE, kept_key
from review.notes.threads import NOT_YOURS
from review.papers.forms import PaperChangeForm
from review.papers.markdown import render_paragraph
from review.papers.note_acts import change_paper_note
from review.papers.note_models import PaperNote
from review.papers.shown import picture_addresses
from review.people.guard import members_who_may
from review.requests import CONFLICT, INVALID, lead_on

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.NOTE)
def paper_note_change(request: Request, member: Member, public_id: str) -> HttpResponse:
    """The form with the note's words, and what it sends."""
    visible = PaperNote.objects.visible_to(member).standing().on_standing_papers()
    note: PaperNote = get_object_or_404(visible.select_related("version__paper__production"), public_id=public_id)
    if note.author_id != member.pk:
        raise PermissionDenied(NOT_YOURS)
    if request.method != "POST":
        return _show(request, member, note, PaperChangeForm(note, is_correction=note.is_answered()))
    form = PaperChangeForm(note, request.POST, is_correction="kind" not in request.POST and note.is_answered())
    if not form.is_valid():
        return _show(request, member, note, form, INVALID)
    try:
        change_paper_note(member, note, form.words, form.cleaned_data["read"])
    except ChangedMeanwhile:
        return _show(request, member, note, form.on_what_stands(), CONFLICT, CHANGED_SINCE)
    except AnsweredMeanwhile:
        return _show(request, member, note, form.on_what_stands(is_correction=True), CONFLICT, ANSWERED_SINCE)
    messages.success(request, "Your note says so now.")
    return lead_on(request, _back(note))


def _back(note: PaperNote) -> str:
    paper = note.version.paper
    address = reverse("paper", args=[paper.production.public_id, paper.public_id])
    return f"{address}#note-{note.public_id}"


def _show(
    request: Request,
    member: Member,
    note: PaperNote,
    form: PaperChangeForm,
    status: int = 200,
    sentence: str = "",
) -> HttpResponse:
    context = {
        "member": member,
        "note": note,
        "paper": note.version.paper,
        "quoted": render_paragraph(note.quoted, picture_addresses(note.version.paper)),
        "form": form,
        "sentence": sentence,
        "kept_key": kept_key(member, "paper-change", note.public_id),
        "back": _back(note),
    }
    return render(request, "papers/paper_note_change.html", context, status=status)
