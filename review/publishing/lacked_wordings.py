"""Which accepted wordings of the open working draft a text that comes from elsewhere does not have."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.cards.addresses import script_address
from review.drafts.scripts import compare_drafts
from review.notes.then_and_now import lines_then_and_now
from review.rewriting.current_text import current_text

if TYPE_CHECKING:
    from review.notes.models import Note
    from review.notes.then_and_now import NextText, ThenAndNow
    from review.people.models import Member
    from screenplay import Span
    from screenplay.comparing import Comparison


@dataclass(frozen=True, slots=True)
class LackedWording:
    """A note whose wording a text lacks: `words` are what it would have read, "" where its lines would be cut, and
    `address` is where the note stands in the current draft."""

    note: Note
    words: str
    address: str


def lacked_wordings(by: Member, following: NextText) -> list[LackedWording]:
    """The wordings that are in the working draft and not in a text, in the order in which they were taken; the same
    queries however many there are."""
    current = current_text(by.production)
    if current is None or not current.taken:
        return []
    working = current.following
    comparison = compare_drafts(working.draft, following.draft)
    followed = lines_then_and_now([taken.note for taken in current.taken], current.draft, following)
    return [
        LackedWording(taken.note, taken.note.wording or "", script_address(by, current.draft, taken.note))
        for taken in current.taken
        if taken.note_id in working.wordings
        and not _is_in(working.wordings[taken.note_id], followed[taken.note_id], comparison)
    ]


def _is_in(lines: Span | None, told: ThenAndNow, comparison: Comparison) -> bool:
    """Whether the lines that a wording is in the working draft stand in the text with the same words, but for names
    that changed throughout; of one that cuts its lines, whether they are gone, or read otherwise."""
    if lines is None:
        return told.now is None or told.has_changed
    by_old = comparison.by_old
    fates = [by_old[line] for line in range(lines.first_line, lines.last_line + 1) if line in by_old]
    return all(map(comparison.keeps_words, fates))
