"""How far readers have come: scene by scene for themselves, in figures for the writer."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.drafts.scripts import laid_out
from review.readers.models import Reader, Reading
from review.readings.models import ClarityMark, SceneRead

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.readers.models import ReadingQuerySet
    from screenplay.script import Scene


@dataclass(frozen=True, slots=True)
class SceneLine:
    """A scene as a reader's list shows it: whether they have read it, and the mark they gave it."""

    scene: Scene
    is_read: bool
    mark: ClarityMark | None

    @property
    def name(self) -> str:
        return scene_name(self.scene)


def scene_name(scene: Scene) -> str:
    """A scene's number and heading, as one speaks of it."""
    return f"{scene.number or scene.ordinal} {scene.heading}"


@dataclass(frozen=True, slots=True)
class ReaderProgress:
    """Where a reader is in a reading. `go_on` is the scene to go on with, by its ordinal; None where all are read."""

    reader: Reader
    scenes: tuple[SceneLine, ...]

    @property
    def reading(self) -> Reading:
        return self.reader.reading

    @property
    def is_open(self) -> bool:
        """Whether the reader can still say something."""
        return self.reader.finished_at is None and self.reading.is_open

    @property
    def read(self) -> int:
        return sum(line.is_read for line in self.scenes)

    @property
    def marked(self) -> int:
        return sum(line.mark is not None for line in self.scenes)

    @property
    def total(self) -> int:
        return len(self.scenes)

    @property
    def share(self) -> int:
        """How much is read, of a hundred."""
        return round(100 * self.read / self.total) if self.total else 0

    @property
    def go_on(self) -> SceneLine | None:
        """The scene where they left off, unless it is read; else the next that is not, from there on and round."""
        at = (self.reader.left_off or 1) - 1
        onward = (*self.scenes[at:], *self.scenes[:at])
        return next((line for line in onward if not line.is_read), None)


def open_progress(member: Member) -> list[ReaderProgress]:
    """Where a member is in each open reading that waits for them, the one that ends first coming first; four queries at
    most."""
    readers = Reader.objects.waited_for().filter(member=member, reading__in=Reading.objects.open())
    found = readers.select_related("reading__draft__production", "reading__opened_by__person")
    return _progress(list(found.order_by("reading__until", "reading__id")))


def reader_progress(reader: Reader) -> ReaderProgress:
    """Where one reader is; two queries."""
    return _progress([reader])[0]


def _progress(readers: list[Reader]) -> list[ReaderProgress]:
    if not readers:
        return []
    keys = [reader.pk for reader in readers]
    marks = {(mark.reader_id, mark.scene): mark for mark in ClarityMark.objects.standing().filter(reader__in=keys)}
    seen = SceneRead.objects.filter(reader__in=keys).exclude(read_at=None)
    read = set(seen.values_list("reader", "scene"))
    return [
        ReaderProgress(
            reader,
            tuple(
                SceneLine(scene, (reader.pk, scene.ordinal) in read, marks.get((reader.pk, scene.ordinal)))
                for scene in laid_out(reader.reading.draft).scenes
            ),
        )
        for reader in readers
    ]


@dataclass(frozen=True, slots=True)
class ReaderRow:
    """A reader as the writer sees them: how many scenes they have read and marked, of how many. `kept_by` is another
    reading, which keeps the words of others here from them though this one is over for them."""

    reader: Reader
    read: int
    marked: int
    total: int
    kept_by: Reading | None

    @property
    def share(self) -> int:
        return round(100 * self.read / self.total) if self.total else 0

    @property
    def is_waited_for(self) -> bool:
        member = self.reader.member
        return not (self.reader.finished_at or member.removed_at or member.is_writer)

    @property
    def state(self) -> str:
        """In a word or two."""
        if self.reader.finished_at:
            return "Finished"
        if self.reader.member.removed_at:
            return "No longer on the production"
        if self.reader.member.is_writer:
            return "A writer now"
        if self.reader.reading.is_open:
            return "Reading" if self.reader.begun_at else "Not begun"
        return "Did not finish" if self.reader.begun_at else "Did not begin"


def reader_rows(reading: Reading) -> list[ReaderRow]:
    """Every reader of a reading, those who have finished first, then by how far they are; four queries."""
    total = scene_count(reading.draft)
    readers = list(reading.readers.in_it().select_related("member__person"))
    read = Counter(SceneRead.objects.filter(reader__in=readers).exclude(read_at=None).values_list("reader", flat=True))
    marked = Counter(ClarityMark.objects.standing().filter(reader__in=readers).values_list("reader", flat=True))
    kept_by = _kept_elsewhere(reading, readers)
    rows = [
        ReaderRow(reader, read[reader.pk], marked[reader.pk], total, kept_by.get(reader.member_id))
        for reader in readers
    ]
    return sorted(rows, key=lambda row: (row.reader.finished_at is None, -row.read, row.reader.name))


def _kept_elsewhere(reading: Reading, readers: Sequence[Reader]) -> dict[int, Reading]:
    """By member, for whom this reading is over, the one that keeps the words of others from them: it ends first."""
    over = [reader.member_id for reader in readers if reader.finished_at or not reading.is_open]
    alone = Reader.objects.reading_alone().filter(member__in=over).exclude(reading=reading)
    ordered = alone.select_related("reading__draft").order_by("-reading__until", "-reading__id")
    return {reader.member_id: reader.reading for reader in ordered}


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """A reading with how many have finished it, of how many; `own` is the reader that the member is in it, None for
    a writer."""

    reading: Reading
    finished: int
    readers: int
    own: Reader | None

    @classmethod
    def of(cls, reading: Reading, readers: Sequence[Reader], member: Member) -> ReadingRow:
        own = next((reader for reader in readers if reader.member_id == member.pk), None)
        return cls(reading, sum(reader.finished_at is not None for reader in readers), len(readers), own)


def reading_rows(member: Member, readings: ReadingQuerySet) -> list[ReadingRow]:
    """These readings with how many have finished each; two queries."""
    found = list(readings.select_related("draft__production", "opened_by__person").defer("draft__text"))
    readers: dict[int, list[Reader]] = defaultdict(list)
    for reader in Reader.objects.in_it().filter(reading__in=[each.pk for each in found]):
        readers[reader.reading_id].append(reader)
    return [ReadingRow.of(each, readers[each.pk], member) for each in found]


def scene_count(draft: Draft) -> int:
    return len(laid_out(draft).scenes)
