"""The picture of a whole reading at one look: scenes along, as wide as they are long, and readers down."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.reception import Clarity

if TYPE_CHECKING:
    from review.readings.learned import Learned, LearnedScene

# In units of the picture, whose width is told by its view box.
NAMES, WIDTH, ROW, GAP, HEAD, FOOT = 150, 1000, 22, 6, 26, 8
LEAST_WIDTH = 4
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
    """A scene: where it stands, how wide it is, and its readers' marks."""

    learned: LearnedScene
    x: float
    width: float
    bars: tuple[MarkBar, ...]

    @property
    def middle(self) -> float:
        return round(self.x + self.width / 2, 1)


@dataclass(frozen=True, slots=True)
class ReaderLine:
    """A reader: their name, and where their row's foot is."""

    name: str
    y: float


@dataclass(frozen=True, slots=True)
class Glance:
    columns: tuple[SceneColumn, ...]
    rows: tuple[ReaderLine, ...]
    width: int
    height: int
    names: int
    head: int


def glance(learned: Learned) -> Glance:
    """Where everything stands in the picture of a reading."""
    lengths = [max(each.scene.eighths, 1) for each in learned.scenes]
    room = WIDTH - NAMES - GAP
    unit = room / (sum(lengths) or 1)
    columns: list[SceneColumn] = []
    x = float(NAMES)
    for each, length in zip(learned.scenes, lengths, strict=True):
        width = length * unit
        drawn = max(width - 1.5, LEAST_WIDTH / 2)
        columns.append(SceneColumn(each, round(x, 1), round(drawn, 1), _bars(each)))
        x += width
    rows = tuple(ReaderLine(reader.name, _foot(at)) for at, reader in enumerate(learned.readers))
    height = HEAD + len(rows) * (ROW + GAP) + FOOT
    return Glance(tuple(columns), rows, WIDTH, height, NAMES, HEAD)


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
