"""The cards of a draft's notes in script order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.notes.models import Fate

if TYPE_CHECKING:
    from collections.abc import Iterable

    from review.cards.note_card import NoteCard


def in_script_order(cards: Iterable[NoteCard]) -> list[NoteCard]:
    """Those of the cards whose notes stand on their draft, by line and character, and last those whose lines are gone
    there. Notes that were left on a later one are not among them."""
    here = [card for card in cards if card.stands.at or card.since.fate == Fate.GONE]
    placed = ((card.stands.at.first_line, card.stands.at.first_char, card) for card in here if card.stands.at)
    homeless = [card for card in here if not card.stands.at]
    return [*(card for *_, card in sorted(placed, key=lambda one: (*one[:2], one[2].note.pk))), *homeless]
