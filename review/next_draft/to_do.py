"""What is still to write: the notes that were accepted and that no draft answers, beside the pages as they are now."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.decisions.in_force import accepted_and_not_written_in
from review.notes.models import Note, Subject
from review.publishing.answers import questions

if TYPE_CHECKING:
    from review.cards.note_cards import NoteCard
    from review.people.models import Member
    from review.publishing.answers import Question
    from review.rewriting.models import WorkingScene
    from review.rewriting.text_now import PagesNow


@dataclass(frozen=True, slots=True)
class ToDo:
    """An accepted note to write in. `scene` is the working scene that its lines are in, None where they are gone or no
    working draft is open; `line` the first of them in that scene."""

    question: Question
    scene: WorkingScene | None
    line: int

    @property
    def card(self) -> NoteCard:
        return self.question.card

    @property
    def is_changed(self) -> bool:
        """Whether its lines read otherwise than in the current draft."""
        return self.question.followed.has_changed

    @property
    def is_gone(self) -> bool:
        return self.question.followed.now is None

    @property
    def lines(self) -> str:
        """The lines as they stand now; of a scene its heading, of a character the cue they first speak under."""
        now = self.question.followed.now
        if now is None:
            return ""
        return now.lines.split("\n", 1)[0] if self.card.subject == Subject.SCENE else self.question.now


def to_do(by: Member, pages: PagesNow) -> list[ToDo]:
    """The notes to write in, in the order of the pages as they are now, those whose lines are gone last; the same
    queries however many there are."""
    return sorted((_to_do(question, pages) for question in questions(by, pages.text)), key=_place)


def _to_do(question: Question, pages: PagesNow) -> ToDo:
    now = question.followed.now
    scene, line = (pages.scene_at(now.first_line) if now else None) or (None, 1)
    return ToDo(question, scene, line)


def _place(item: ToDo) -> tuple[bool, int, int]:
    now = item.question.followed.now
    return (now is None, now.first_line if now else 0, item.card.note.pk)


def count_to_do(by: Member) -> int:
    """How many accepted notes no draft answers yet; one query."""
    return accepted_and_not_written_in(Note.objects.visible_to(by).standing()).count()
