"""A note's author changing what it says, or correcting it once somebody has answered it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods
from django_htmx.http import HttpResponseClientRedirect

from review.access import Deed, may_change
from review.cards.addresses import script_address
from review.notes import acts
from review.notes.forms import ANSWERED_SINCE, CHANGED_SINCE
from review.notes.models import Note
from review.notes.threads import NOT_YOURS
from review.notes_screen.change_forms import ChangeNoteForm, CorrectNoteForm
from review.people.guard import members_who_may
from review.requests import CONFLICT, INVALID

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.NOTE)
def note_change(request: Request, member: Member, public_id: str) -> HttpResponse:
    """The form with the note's words, and what it sends."""
    visible = Note.objects.visible_to(member).not_withdrawn()
    note = get_object_or_404(visible.select_related("draft__production", "author__person"), public_id=public_id)
    if not may_change(member, note):
        raise PermissionDenied(NOT_YOURS)
    if request.method != "POST":
        return _show(request, member, note, _form(note))
    form = _form(note, request)
    if not form.is_valid():
        return _show(request, member, note, form, INVALID)
    try:
        changed = form.store(member)
    except acts.ChangedMeanwhile:
        return _show(request, member, note, form.on_what_stands(), CONFLICT, CHANGED_SINCE)
    except acts.AnsweredMeanwhile:
        return _show(request, member, note, CorrectNoteForm(note, initial=form.cleaned_data), CONFLICT, ANSWERED_SINCE)
    messages.success(request, "Your note says so now.")
    address = script_address(member, changed.draft, changed)
    return HttpResponseClientRedirect(address) if request.htmx else redirect(address)


def _form(note: Note, request: Request | None = None) -> ChangeNoteForm | CorrectNoteForm:
    """Whoever was answered meanwhile has a form in hand that changes more than a correction may."""
    is_answered = Note.objects.filter(pk=note.pk).answered().exists()
    if request is None:
        return CorrectNoteForm(note) if is_answered else ChangeNoteForm(note)
    sent_all = "kind" in request.POST
    return ChangeNoteForm(note, request.POST) if sent_all or not is_answered else CorrectNoteForm(note, request.POST)


def _show(
    request: Request,
    member: Member,
    note: Note,
    form: ChangeNoteForm | CorrectNoteForm,
    status: int = 200,
    sentence: str = "",
) -> HttpResponse:
    template = "notes_screen/note_change_form.html" if request.htmx else "notes_screen/note_change.html"
    context = {
        "member": member,
        "note": note,
        "draft": note.draft,
        "form": form,
        "sentence": sentence,
        "kept_key": form.kept_key(member),
        "back": script_address(member, note.draft, note),
    }
    return render(request, template, context, status=status)
