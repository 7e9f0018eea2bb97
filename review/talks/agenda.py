"""What there is to talk over with some departments: the notes that are open, the answers that missed, the scenes that
lost somebody or were slow for them, in script order."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.cards.note_cards import note_cards
from review.cards.script_order import in_script_order
from review.decisions.in_force import undecided
from review.drafts.scripts import laid_out, read_script
from review.notes.models import Note, Subject
from review.readings.learned import learned
from review.readings.progress import scene_name
from review.talks.marks_before import marks_before
from review.talks.missed_answers import missed_answers
from screenplay.reception import Clarity

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from review.cards.note_card import NoteCard
    from review.people.models import Member
    from review.readings.learned import MarkCell
    from review.talks.missed_answers import MissedAnswer
    from review.talks.models import Talk
    from screenplay.script import Scene

SLOW_SENSE = (
    "A scene that was slow for one of them is here where it loses readers: where two at least, and a third of those who"
    " marked it, were lost in it or found it slow."
)


@dataclass(frozen=True, slots=True)
class CardsApart:
    """Cards of notes: those that stand open where a talk's page is shown to all, and those for the writers' eyes only,
    which are folded away there."""

    open: tuple[NoteCard, ...]
    hidden: tuple[NoteCard, ...]

    @classmethod
    def of(cls, cards: Iterable[NoteCard]) -> CardsApart:
        """Those that are folded away are so for writers, who lead a talk; others look at their own page alone."""
        cards = tuple(cards)
        hidden = tuple(card for card in cards if card.is_hidden and card.member.is_writer)
        return cls(tuple(card for card in cards if card not in hidden), hidden)


@dataclass(frozen=True, slots=True)
class AgendaScene:
    """A scene to talk about: who of them it lost or was slow for, as it came of the readings; the answers that missed
    of what was asked; its open notes."""

    scene: Scene
    marks: tuple[MarkCell, ...]
    missed: tuple[MissedAnswer, ...]
    cards: tuple[NoteCard, ...]

    @property
    def name(self) -> str:
        return scene_name(self.scene)

    @property
    def apart(self) -> CardsApart:
        return CardsApart.of(self.cards)

    @property
    def not_held(self) -> list[tuple[str, list[MarkCell]]]:
        """Who was lost in it, and who found it slow, each as it is said of the scene."""
        said = (("Lost here", Clarity.LOST), ("Slow for", Clarity.SLOW))
        found = [(word, [each for each in self.marks if each.mark and each.mark.mark == mark]) for word, mark in said]
        return [(word, cells) for word, cells in found if cells]


@dataclass(frozen=True, slots=True)
class Agenda:
    """Scenes in script order; `missed` and `cards` are of no scene: of the draft, a character, or lines that are
    gone."""

    scenes: tuple[AgendaScene, ...]
    missed: tuple[MissedAnswer, ...]
    cards: tuple[NoteCard, ...]

    @property
    def apart(self) -> CardsApart:
        return CardsApart.of(self.cards)

    @property
    def is_empty(self) -> bool:
        return not (self.scenes or self.missed or self.cards)

    @property
    def slow_sense(self) -> str:
        """Which of the scenes that were slow are on it."""
        return SLOW_SENSE

    @property
    def notes(self) -> int:
        return len(self.every_card)

    @property
    def every_card(self) -> tuple[NoteCard, ...]:
        return (*self.cards, *(card for each in self.scenes for card in each.cards))


def agenda(member: Member, talk: Talk) -> Agenda:
    """The agenda of a talk, as far as this member may read it: what the departments of those who are asked, and those
    who are asked themselves, said of the talk's draft. The same queries however many notes there are."""
    departments = {each.department for each in talk.members.all()}
    cards, homeless = _open_notes(member, talk, departments)
    marks = _marks(member, talk, departments)
    missed = missed_answers(member, talk.draft, departments)
    found = tuple(
        AgendaScene(
            scene,
            tuple(marks.get(scene.ordinal, ())),
            tuple(missed.get(scene.ordinal, ())),
            tuple(cards.get(scene.ordinal, ())),
        )
        for scene in laid_out(talk.draft).scenes
        if any(scene.ordinal in said for said in (marks, missed, cards))
    )
    return Agenda(found, tuple(missed.get(None, ())), tuple(homeless))


def said_in(member: Member, talk: Talk, told: Agenda | None) -> list[NoteCard]:
    """The cards of what was taken down in a talk, as far as this member may read it, in script order; those left out
    that stand in the agenda they see."""
    notes = Note.objects.visible_to(member).not_withdrawn().filter(taken_down_in=talk)
    shown = {card.note.pk for card in told.every_card} if told else set()
    return in_script_order(note_cards(member, notes.exclude(pk__in=shown), talk.draft))


def _open_notes(
    member: Member, talk: Talk, departments: Iterable[str]
) -> tuple[Mapping[int, Sequence[NoteCard]], list[NoteCard]]:
    """The cards of open notes by the scene that they stand in on the draft, and of those that stand in none."""
    notes = undecided(
        Note.objects.visible_to(member).not_withdrawn().filter(author__department__in=departments, said_by="")
    )
    scene_of = read_script(talk.draft).scene_of
    by_scene: dict[int, list[NoteCard]] = defaultdict(list)
    homeless: list[NoteCard] = []
    for card in in_script_order(note_cards(member, notes, talk.draft)):
        scene = scene_of[card.stands.at.first_line - 1] if card.stands.at else 0
        is_elsewhere = not scene or card.subject == Subject.CHARACTER
        (homeless if is_elsewhere else by_scene[scene]).append(card)
    return by_scene, homeless


def _marks(member: Member, talk: Talk, departments: set[str]) -> dict[int, list[MarkCell]]:
    """Who lost the thread, by scene, with those for whom a scene was slow that loses readers by what came of the
    reading, and what they said of it last in readings of earlier drafts."""
    marks = marks_before(member, talk.draft, departments)
    for reading in talk.draft.readings.standing():
        for scene in learned(member, reading).scenes:
            cells = (cell for cell in scene.said if cell.reader.member.department in departments)
            counted = {Clarity.LOST, Clarity.SLOW} if scene.lost else {Clarity.LOST}
            if said := [cell for cell in cells if cell.mark and cell.mark.mark in counted]:
                marks[scene.scene.ordinal] += said
    return marks
