"""What is still to write: the notes that were accepted and that no draft answers, beside the pages as they are now."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.cards.accepted import accepted_notes
from review.notes.models import Subject

if TYPE_CHECKING:
    from review.cards.accepted import AcceptedNote
    from review.cards.note_card import NoteCard
    from review.people.models import Member
    from review.rewriting.current_text import CurrentText
    from review.rewriting.models import WorkingScene


@dataclass(frozen=True, slots=True)
class ToDo:
    """An accepted note to write in. `scene` is the working scene that its lines are in, or were in if its own wording
    cut them, None where they are gone or no working draft is open; `line` the first of them in that scene."""

    accepted: AcceptedNote
    scene: WorkingScene | None
    line: int

    @property
    def card(self) -> NoteCard:
        return self.accepted.card

    @property
    def is_changed(self) -> bool:
        """Whether its lines read otherwise than in the current draft: names and numbers alone are no answer."""
        return self.accepted.has_changed and not self.accepted.is_renamed_alone

    @property
    def is_gone(self) -> bool:
        return self.accepted.then_and_now.line is None

    @property
    def lines(self) -> str:
        """The lines as they stand now; of a scene its heading, of a character the cue they first speak under."""
        now = self.accepted.then_and_now.now
        if now is None:
            return ""
        return now.lines.split("\n", 1)[0] if self.card.subject == Subject.SCENE else self.accepted.now


def to_do(by: Member, current: CurrentText) -> list[ToDo]:
    """The notes to write in, in the order of the pages as they are now, those whose lines are gone last; the same
    queries however many there are."""
    return sorted((_to_do(accepted, current) for accepted in accepted_notes(by, current.following)), key=_place)


def _to_do(accepted: AcceptedNote, current: CurrentText) -> ToDo:
    at = accepted.then_and_now.line
    scene, line = (current.scene_at(at) if at else None) or (None, 1)
    return ToDo(accepted, scene, line)


def _place(item: ToDo) -> tuple[bool, int, int]:
    line = item.accepted.then_and_now.line
    return (line is None, line or 0, item.card.note.pk)
