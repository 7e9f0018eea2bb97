"""What the notes screen shows, said in a sentence: which notes, how they are grouped, and in which order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.cards.filters_in_words import notes_in_words
from review.notes_screen.arrangement import Grouping, NoteOrder

if TYPE_CHECKING:
    from review.cards.filters import FilteredNotes
    from review.notes_screen.arrangement import Arrangement

GROUPED = {
    Grouping.LINES: "by the lines they share",
    Grouping.SCENE: "by scene",
    Grouping.DEPARTMENT: "by department",
    Grouping.KIND: "by kind",
    Grouping.READER: "by reader",
}
ORDERED = {
    NoteOrder.SCRIPT: "in script order",
    NoteOrder.NEWEST: "the newest first",
    NoteOrder.REPLIES: "those with most replies first",
}


def said_in_words(filtered: FilteredNotes, how: Arrangement) -> str:
    """A sentence such as: 3 undecided problems from Camera, left on draft 2; by scene, the newest first."""
    counted = notes_in_words(len(filtered.rows), filtered.filters)
    return f"{counted}; {GROUPED[how.grouping]}, {ORDERED[how.order]}."
