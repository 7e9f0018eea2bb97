"""Replies to notes: making one, taking back one's own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_POST

from review.access import Deed
from review.notes import acts
from review.notes.models import Note, Reply
from review.notes.pace import TooFast
from review.notes_screen.forms import ReplyForm
from review.notes_screen.views.note import answer_with_card, fragment_of, note_page_context
from review.people.guard import members_who_may
from review.requests import CONFLICT, INVALID, TOO_MANY

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request

SENT_ALREADY = "You sent this reply already. It is under the note, and counts once."
WITHDRAWN_SINCE = "You sent this reply already, and have withdrawn it since."


@require_POST
@members_who_may(Deed.NOTE)
def reply_new(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Reply to a note that stands and that the member can read."""
    note = get_object_or_404(Note.objects.visible_to(member).not_withdrawn(), public_id=public_id)
    form = ReplyForm(request.POST, author=member)
    if not form.is_valid():
        return _show_form(request, member, note, form, INVALID)
    said = form.cleaned_data
    try:
        reply = acts.reply(member, note, said["body"], said["form_id"], said["version"])
    except acts.ChangedMeanwhile:
        form.add_error(None, f"{note.author_name} changed this note while you wrote. Read it again, then send.")
        return _show_form(request, member, note, form, CONFLICT)
    except TooFast as refusal:
        form.add_error(None, str(refusal))
        return _show_form(request, member, note, form, TOO_MANY)
    if reply.came_otherwise:
        return _show_form(request, member, note, form.renewed(), CONFLICT)
    if not reply.came_again:
        return answer_with_card(request, member, note)
    return answer_with_card(request, member, note, SENT_ALREADY if reply.withdrawn_at is None else WITHDRAWN_SINCE)


def _show_form(request: Request, member: Member, note: Note, form: ReplyForm, status: int) -> HttpResponse:
    template = fragment_of(request) if request.htmx else "notes_screen/note.html"
    return render(request, template, note_page_context(request, member, note, reply_form=form), status=status)


@require_POST
@members_who_may(Deed.NOTE)
def reply_withdraw(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Take back one's own reply."""
    reply = get_object_or_404(Reply.objects.visible_to(member).select_related("note"), public_id=public_id)
    acts.withdraw_reply(member, reply)
    return answer_with_card(request, member, reply.note)
