"""The picture of a whole reading at one look: scenes along, as wide as they are long, and readers down."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.reception import Clarity

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.readings.learned import Learned, LearnedScene

# Down the picture in pixels; along it in hundredths of the room beside the names, so that it is whole at any width.
ROW, GAP, HEAD, FOOT = 22, 6, 34, 2
NUMBERS_AT = (29, 13)  # where a scene's number stands; beside a near one's on the other line
NEAR = 8.0  # hundredths between two numbers that would touch on a phone
# How much of a row's height a mark fills, so that nobody has to tell colours apart.
FILLS = {Clarity.LOST: 1.0, Clarity.SLOW: 0.55, Clarity.CLEAR: 0.16}


@dataclass(frozen=True, slots=True)
class MarkBar:
    """A mark: where it stands and how high."""

    mark: str
    y: float
    height: float


@dataclass(frozen=True, slots=True)
class SceneColumn:
    """A scene: where it stands, how wide it is, its readers' marks, and how far down its number stands."""

    learned: LearnedScene
    x: float
    width: float
    bars: tuple[MarkBar, ...]
    number_at: int

    @property
    def middle(self) -> float:
        return round(self.x + self.width / 2, 2)


@dataclass(frozen=True, slots=True)
class ReaderLine:
    """A reader: their name, the part of it that there is room for on a phone, and where their row's foot is."""

    name: str
    short: str
    y: float


@dataclass(frozen=True, slots=True)
class Glance:
    columns: tuple[SceneColumn, ...]
    rows: tuple[ReaderLine, ...]
    height: int


def glance(learned: Learned) -> Glance:
    """Where everything stands in the picture of a reading."""
    lengths = [max(each.scene.eighths, 1) for each in learned.scenes]
    unit = 100 / (sum(lengths) or 1)
    columns: list[SceneColumn] = []
    x, before, line = 0.0, -100.0, 0
    for each, length in zip(learned.scenes, lengths, strict=True):
        width = length * unit
        if each.lost:
            line = 1 - line if x + width / 2 - before < NEAR else 0
            before = x + width / 2
        columns.append(SceneColumn(each, round(x, 2), round(width, 2), _bars(each), NUMBERS_AT[line]))
        x += width
    names = [reader.name for reader in learned.readers]
    rows = tuple(ReaderLine(name, _short(name, names), _foot(at)) for at, name in enumerate(names))
    height = HEAD + len(rows) * (ROW + GAP) + FOOT
    return Glance(tuple(columns), rows, height)


def _short(name: str, names: Sequence[str]) -> str:
    """The first of somebody's names, with the last one's letter where another reader has the same."""
    first, *others = name.split() or [name]
    is_shared = sum(each.split()[:1] == [first] for each in names) > 1
    return f"{first} {others[-1][0]}." if is_shared and others else first


def _foot(at: int) -> float:
    return HEAD + (at + 1) * (ROW + GAP) - GAP


def _bars(scene: LearnedScene) -> tuple[MarkBar, ...]:
    found = []
    for at, cell in enumerate(scene.cells):
        if cell.mark:
            height = round(ROW * FILLS[Clarity(cell.mark.mark)], 1)
            found.append(MarkBar(cell.mark.mark, round(_foot(at) - height, 1), height))
        elif cell.is_read:
            found.append(MarkBar("read", _foot(at) - 1, 1))
    return tuple(found)
