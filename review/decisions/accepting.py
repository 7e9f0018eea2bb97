"""What it means to accept a note: a question is answered, a caution acknowledged, praise thanked for, and whatever else
a reader says accepted, to be written in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.notes.models import NoteKind

if TYPE_CHECKING:
    from review.notes.models import Note


@dataclass(frozen=True, slots=True)
class Accepting:
    """One meaning of it: the state that it brings a note to, as addresses name it, the word for that, what the writer
    presses, what they then say, and when that is needed."""

    state: str
    word: str
    button: str
    says: str = "Reason"
    is_needed: str = "needed if you decline"


PLAIN = Accepting("accepted", "Accepted", "Accept")
OF_KIND = {
    NoteKind.QUESTION: Accepting("answered", "Answered", "Answer", "Answer or reason", "needed unless you park it"),
    NoteKind.SAFETY: Accepting("acknowledged", "Acknowledged", "Acknowledge"),
    NoteKind.PRAISE: Accepting("thanked", "Thanked", "Thank them"),
}


def accepting(kind: str, *, has_wording: bool) -> Accepting:
    """What it means for a note of a kind. Whatever offers a wording is accepted, for that is to be written in."""
    return PLAIN if has_wording else OF_KIND.get(NoteKind(kind), PLAIN)


def accepting_note(note: Note) -> Accepting:
    """What it means for a note."""
    return accepting(note.kind, has_wording=note.wording is not None)
