"""What came of a reading, scene by scene in script order: marks by reader, hot lines, answers that missed, notes by
kind, and time where it is shared."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from review.drafts.printed_lines import printed_words
from review.drafts.scripts import laid_out, read_script
from review.notes.lines import whole_span
from review.notes.models import Note, NoteKind, Subject
from review.readings.answers_heard import heard_questions
from review.readings.models import ClarityMark, SceneRead
from review.readings.progress import scene_name
from review.readings.reader_acts import goes_on
from screenplay.reception import (
    FEWEST_RATERS,
    Clarity,
    HotLines,
    LinesRead,
    SceneMark,
    SceneMarks,
    agreement,
    hot_lines,
    lost_scenes,
    slow_factors,
    summary,
)

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from review.people.models import Member
    from review.readers.models import Reader, Reading
    from review.readings.answers_heard import HeardAnswer, HeardQuestion
    from screenplay.reception import Agreement, LostScene
    from screenplay.script import Scene

MOST_QUOTED_LINES = 4
LONG = 1.5  # times as long as a reader usually takes for a scene's length


@dataclass(frozen=True, slots=True)
class MarkCell:
    """What one reader said of one scene; None where they said nothing. `is_read` says that they had read it."""

    reader: Reader
    mark: ClarityMark | None
    is_read: bool

    @property
    def was_alone(self) -> bool:
        """Whether it was said before the words of others stood open to its reader."""
        opened = self.reader.others_open_at
        return self.mark is None or opened is None or self.mark.created_at <= opened


@dataclass(frozen=True, slots=True)
class QuotedHotLines:
    """Hot lines, and what they read, as many as show which they are."""

    lines: HotLines
    quoted: str


@dataclass(frozen=True, slots=True)
class LearnedScene:
    """All that came of one scene. `long_for` are those who share their time and took half as long again as they
    usually do for its length, with how many times as long."""

    scene: Scene
    cells: tuple[MarkCell, ...]
    marks: SceneMarks
    hot: tuple[QuotedHotLines, ...]
    missed: tuple[tuple[HeardQuestion, HeardAnswer], ...]
    kinds: tuple[tuple[NoteKind, int], ...]
    long_for: tuple[tuple[str, float], ...]
    lost: LostScene | None

    @property
    def name(self) -> str:
        return scene_name(self.scene)

    @property
    def said(self) -> list[MarkCell]:
        """What was said of it other than that it was clear, or with a word why."""
        return [cell for cell in self.cells if cell.mark and (cell.mark.mark != Clarity.CLEAR or cell.mark.why)]

    @property
    def counts(self) -> list[tuple[Clarity, int]]:
        """How many gave each mark that was given."""
        found = Counter(cell.mark.mark for cell in self.cells if cell.mark)
        return [(each, found[each]) for each in (Clarity.LOST, Clarity.SLOW, Clarity.CLEAR) if found[each]]

    @property
    def has_something(self) -> bool:
        return bool(self.said or self.hot or self.missed or self.kinds or self.long_for)


@dataclass(frozen=True, slots=True)
class Learned:
    """What came of a reading. `agreement` is that of those who marked every scene on their own, `is_of_finished` says
    that it is of those alone who have finished; `left_out` are those by name who heard others first. `unfinished` are
    those by name who said something that counts already and can still change it. `about_all` are answers that missed to
    questions about no scene."""

    reading: Reading
    readers: tuple[Reader, ...]
    scenes: tuple[LearnedScene, ...]
    lost: tuple[LostScene, ...]
    sentence: str
    agreement: Agreement
    is_of_finished: bool
    left_out: tuple[str, ...]
    unfinished: tuple[str, ...]
    about_all: tuple[tuple[HeardQuestion, HeardAnswer], ...]


def learned(member: Member, reading: Reading) -> Learned:
    """What came of a reading, as far as a member may see it; the same queries however many readers there are."""
    readers = tuple(reading.readers.select_related("member__person").order_by("member__person__name"))
    marks = _marks(member, readers)
    by_scene = {
        scene.ordinal: SceneMarks(
            f"Scene {scene_name(scene)}",
            tuple(
                SceneMark(reader.name, Clarity(mark.mark), mark.why)
                for reader in readers
                if (mark := marks.get((reader.pk, scene.ordinal)))
            ),
        )
        for scene in laid_out(reading.draft).scenes
    }
    lost = lost_scenes(by_scene)
    said_by = {reader for reader, _ in marks}
    shown = tuple(each for each in readers if each.taken_off_at is None or each.pk in said_by)
    missed = _missed(heard_questions(member, reading))
    scenes = _scenes(member, reading, shown, marks, by_scene, {each.ordinal: each for each in lost}, missed)
    sentence = summary(lost, len(said_by))
    heard_first = {cell.reader for scene in scenes for cell in scene.cells if not cell.was_alone}
    swayed = heard_first if reading.is_blind else set()
    # One who is at the beginning would leave few scenes that all marked; where too few have finished, everybody counts.
    alone = [each for each in shown if each not in swayed]
    finished = [each for each in alone if each.finished_at is not None]
    is_of_finished = len(finished) >= FEWEST_RATERS
    found = _agreement(finished if is_of_finished else alone, marks)
    left_out = tuple(each.name for each in shown if each in swayed)
    said_so_far = (each for each in readers if each.pk in said_by and each.taken_off_at is None)
    unfinished = tuple(each.name for each in said_so_far if goes_on(each))
    about_all = tuple(missed.get(None, ()))
    return Learned(reading, shown, scenes, lost, sentence, found, is_of_finished, left_out, unfinished, about_all)


def _agreement(readers: Sequence[Reader], marks: Mapping[tuple[int, int], ClarityMark]) -> Agreement:
    """How far these readers agree on scenes."""
    counted = {reader.pk for reader in readers}
    ratings: dict[str, dict[int, str]] = defaultdict(dict)
    for (reader, scene), mark in marks.items():
        if reader in counted:
            ratings[str(reader)][scene] = mark.mark
    return agreement(ratings)


def _marks(member: Member, readers: Sequence[Reader]) -> dict[tuple[int, int], ClarityMark]:
    found = ClarityMark.objects.visible_to(member).standing().filter(reader__in=readers)
    return {(mark.reader_id, mark.scene): mark for mark in found}


def _missed(heard: Sequence[HeardQuestion]) -> dict[int | None, list[tuple[HeardQuestion, HeardAnswer]]]:
    found: dict[int | None, list[tuple[HeardQuestion, HeardAnswer]]] = defaultdict(list)
    for each in heard:
        found[each.question.scene] += [(each, answer) for answer in each.missed]
    return found


def _scenes(
    member: Member,
    reading: Reading,
    readers: Sequence[Reader],
    marks: Mapping[tuple[int, int], ClarityMark],
    by_scene: Mapping[int, SceneMarks],
    lost: Mapping[int, LostScene],
    missed: Mapping[int | None, Sequence[tuple[HeardQuestion, HeardAnswer]]],
) -> tuple[LearnedScene, ...]:
    draft = reading.draft
    script = read_script(draft)
    scene_of = script.scene_of
    notes = _notes(member, reading)
    kinds: dict[int, Counter[str]] = defaultdict(Counter)
    for note in notes:
        kinds[scene_of[note.first_line - 1]][note.kind] += 1
    hot: dict[int, list[QuotedHotLines]] = defaultdict(list)
    for found in _hot(notes):
        last = min(found.last_line, found.first_line + MOST_QUOTED_LINES - 1)
        quoted = printed_words(script, whole_span(draft.text, found.first_line, last))
        hot[scene_of[found.first_line - 1]].append(QuotedHotLines(found, quoted))
    times = _times(member, reading, readers)
    return tuple(
        LearnedScene(
            scene,
            tuple(
                MarkCell(reader, marks.get((reader.pk, scene.ordinal)), (reader.pk, scene.ordinal) in times.read)
                for reader in readers
            ),
            by_scene[scene.ordinal],
            tuple(hot[scene.ordinal]),
            tuple(missed.get(scene.ordinal, ())),
            tuple((kind, kinds[scene.ordinal][kind]) for kind in NoteKind if kinds[scene.ordinal][kind]),
            times.long_for(scene.ordinal),
            lost.get(scene.ordinal),
        )
        for scene in laid_out(draft).scenes
    )


def _notes(member: Member, reading: Reading) -> list[Note]:
    """The notes that were left on the draft by those who read it, about lines or a scene. One that came in under the
    name of somebody who is no member is nobody's here: it counts in no reading, whoever brought it."""
    notes = Note.objects.visible_to(member).not_withdrawn().filter(draft=reading.draft, said_by="")
    readers = reading.readers.values("member")
    found = notes.filter(author__in=readers).exclude(subject=Subject.CHARACTER)
    return list(found.select_related("author__person"))


def _hot(notes: Sequence[Note]) -> tuple[HotLines, ...]:
    """Hot lines among notes; readers who share a name are two."""
    on_lines = [note for note in notes if note.subject == Subject.LINES]
    names = {str(note.author_id): note.author_name for note in on_lines}
    found = hot_lines(LinesRead(str(note.author_id), note.first_line, note.last_line) for note in on_lines)
    return tuple(replace(each, readers=tuple(sorted(names[key] for key in each.readers))) for each in found)


@dataclass(frozen=True, slots=True)
class _Times:
    """Who has read which scene, by the reader's key and the scene's ordinal; and how long those took who share it."""

    read: frozenset[tuple[int, int]]
    factors: tuple[tuple[str, Mapping[int, float]], ...]

    def long_for(self, ordinal: int) -> tuple[tuple[str, float], ...]:
        return tuple((name, of[ordinal]) for name, of in self.factors if of.get(ordinal, 0) >= LONG)


def _times(member: Member, reading: Reading, readers: Sequence[Reader]) -> _Times:
    eighths = {scene.ordinal: scene.eighths for scene in laid_out(reading.draft).scenes}
    seconds: dict[int, dict[int, float]] = defaultdict(dict)
    read: set[tuple[int, int]] = set()
    for seen in SceneRead.objects.filter(reader__in=readers).exclude(read_at=None):
        read.add((seen.reader_id, seen.scene))
        seconds[seen.reader_id][seen.scene] = seen.seconds
    shared = [reader for reader in readers if reader.shares_time and member.is_writer]
    factors = tuple((reader.name, slow_factors(seconds[reader.pk], eighths)) for reader in shared)
    return _Times(frozenset(read), factors)
