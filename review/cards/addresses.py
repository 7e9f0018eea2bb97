"""Where a note is found on the script screen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.urls import reverse

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member


def script_address(member: Member, draft: Draft, note: Note) -> str:
    """Where the note stands on the script screen."""
    address = reverse("script", args=[member.production.public_id, draft.number])
    return f"{address}?note={note.public_id}#note-{note.public_id}"
