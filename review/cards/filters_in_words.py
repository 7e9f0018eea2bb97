"""Which notes are left by filters, said in words: how many, of what sort, by whom."""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.cards.note_rows import HERE, ME, NO_DEPARTMENT
from review.decisions.states import STATES, WITHDRAWN
from review.notes.models import Fate, NoteKind, Subject

if TYPE_CHECKING:
    from collections.abc import Mapping

    from review.cards.filters import Filter

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


def notes_in_words(count: int, filters: Mapping[str, Filter]) -> str:
    """So many notes that filters left, such as: 3 undecided problems, from Camera, left on draft 2."""
    return f"{count:,} {sort_in_words(filters, is_one=count == 1)}"


def sort_in_words(filters: Mapping[str, Filter], *, is_one: bool = False) -> str:
    """Of which sort the notes are that filters leave, such as: undecided problems, from Camera."""
    chosen = {name: each.chosen for name, each in filters.items() if not each.is_open}
    noun = NOUNS[chosen.get("kind", "")][not is_one]
    state = STATES.get(chosen.get("state", ""), "").lower()
    named = f"{noun} {state}" if chosen.get("state") == WITHDRAWN else " ".join([*state.split(), noun])
    clauses = [
        _from_department(filters["department"]) if "department" in chosen else "",
        _by_whom(filters["author"]) if "author" in chosen else "",
        ABOUT[chosen["about"]] if "about" in chosen else "",
        f"left on {_label(filters['draft']).lower()}" if "draft" in chosen else "",
        FATES[chosen["fate"]] if "fate" in chosen else "",
        "where several meet" if chosen.get("meet") == "yes" else "",
    ]
    return ", ".join([named, *filter(None, clauses)])


def _from_department(department: Filter) -> str:
    return "from no department" if department.chosen == NO_DEPARTMENT else f"from {_label(department)}"


def _by_whom(author: Filter) -> str:
    return "by you" if author.chosen == ME else f"by {_label(author)}"


def _label(one: Filter) -> str:
    return next(option.label for option in one.options if option.chosen)
