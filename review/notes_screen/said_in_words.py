"""What the notes screen shows, said in a sentence: which notes, how they are grouped, and in which order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.decisions.states import STATES, WITHDRAWN
from review.notes.models import Fate, NoteKind, Subject
from review.notes_screen.arrangement import Grouping, NoteOrder
from review.notes_screen.filters import HERE, ME

if TYPE_CHECKING:
    from review.notes_screen.arrangement import Arrangement
    from review.notes_screen.filters import Filter, FilteredNotes

NOUNS = {
    "": ("note", "notes"),
    NoteKind.QUESTION.value: ("question", "questions"),
    NoteKind.CONFUSION.value: ("note of confusion", "notes of confusion"),
    NoteKind.IDEA.value: ("idea", "ideas"),
    NoteKind.PROBLEM.value: ("problem", "problems"),
    NoteKind.PRACTICAL.value: ("practical note", "practical notes"),
    NoteKind.SAFETY.value: ("note on safety", "notes on safety"),
    NoteKind.PRAISE.value: ("note of praise", "notes of praise"),
}
ABOUT = {
    Subject.LINES.value: "on lines",
    Subject.SCENE.value: "on whole scenes",
    Subject.CHARACTER.value: "on characters",
}
FATES = {
    HERE: "left on this draft",
    Fate.KEPT.value: "whose lines were kept",
    Fate.MOVED.value: "whose lines moved",
    Fate.REWORDED.value: "whose lines were reworded",
    Fate.GONE.value: "whose lines are gone",
}
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
    count = len(filtered.rows)
    chosen = {name: each.chosen for name, each in filtered.filters.items() if not each.is_open}
    noun = NOUNS[chosen.get("kind", "")][count != 1]
    state = STATES.get(chosen.get("state", ""), "").lower()
    counted = (
        f"{count:,} {noun} {state}"
        if chosen.get("state") == WITHDRAWN
        else " ".join([f"{count:,}", *state.split(), noun])
    )
    clauses = [
        f"from {_label(filtered.filters['department'])}" if "department" in chosen else "",
        _by_whom(filtered.author) if "author" in chosen else "",
        ABOUT[chosen["about"]] if "about" in chosen else "",
        f"left on {_label(filtered.filters['draft']).lower()}" if "draft" in chosen else "",
        FATES[chosen["fate"]] if "fate" in chosen else "",
        "where several meet" if chosen.get("meet") == "yes" else "",
    ]
    return f"{', '.join([counted, *filter(None, clauses)])}; {GROUPED[how.grouping]}, {ORDERED[how.order]}."


def _by_whom(author: Filter) -> str:
    return "by you" if author.chosen == ME else f"by {_label(author)}"


def _label(one: Filter) -> str:
    return next(option.label for option in one.options if option.chosen)
