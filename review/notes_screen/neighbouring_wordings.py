"""Which other notes a wording that goes in or out may concern: those with a wording for the same lines or the next."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db.models import Q

from review.cards.note_cards import note_cards
from review.notes.models import Note

if TYPE_CHECKING:
    from review.cards.note_card import NoteCard


def neighbouring_wordings(card: NoteCard) -> list[NoteCard]:
    """The cards of the other notes with a wording that stand near this one in the draft it is shown on; the same
    queries however many there are."""
    if card.stands.span is None:
        return []
    first, last = card.stands.span.first_line - 1, card.stands.span.last_line + 1
    own = Q(draft=card.draft, first_line__lte=last, last_line__gte=first)
    carried = Q(placements__draft=card.draft, placements__first_line__lte=last, placements__last_line__gte=first)
    offering = Note.objects.visible_to(card.member).not_withdrawn().exclude(wording=None).exclude(pk=card.note.pk)
    return note_cards(card.member, offering.filter(own | carried).distinct(), card.draft)
