"""The look that a member has the notes in: the one they chose, else one that suits how many there are."""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.access import Deed, refuse_unless
from review.notes_screen.models import Look, NotesLook

if TYPE_CHECKING:
    from review.people.models import Member

FEW = 12  # notes: more than these are looked through before one is read beside its lines


def look_of(member: Member, notes: int) -> str:
    """The look for whoever may read so many notes; one query."""
    chosen = NotesLook.objects.filter(member=member).values_list("look", flat=True).first()
    return chosen or (Look.COMPACT if notes > FEW else Look.PAGES)


def choose_look(member: Member, look: Look) -> None:
    """Keep a member's look, which is theirs alone and stands in nobody's way."""
    refuse_unless(member, Deed.READ)
    NotesLook.objects.update_or_create(member=member, defaults={"look": look})
