"""How near the voices of a draft are to each other, as a table and as a picture: a line for each voice, with the others
on it as far along as they are apart."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from screenplay.speech import VoiceLikeness

WIDTH, LABEL, ROW = 640, 150, 40
LEVELS = 5


@dataclass(frozen=True, slots=True)
class Near:
    """One voice as another sees it: how far it is, in words of figures, and how near on a scale of LEVELS, 1 the
    farthest. `x` is where it stands in the picture."""

    name: str
    delta: float
    level: int
    x: float


@dataclass(frozen=True, slots=True)
class NearRow:
    """A voice, and each other one in the same order; itself is None. `y` is its line in the picture."""

    name: str
    others: tuple[Near | None, ...]
    y: int

    @property
    def placed(self) -> list[Near]:
        return [other for other in self.others if other]

    @property
    def nearest(self) -> Near:
        return min(self.placed, key=lambda other: other.delta)


@dataclass(frozen=True, slots=True)
class LikenessDrawn:
    rows: tuple[NearRow, ...]
    too_short: tuple[str, ...]
    width: int = WIDTH
    label: int = LABEL

    @property
    def height(self) -> int:
        return ROW * len(self.rows) + 24


def draw_likeness(found: VoiceLikeness | None) -> LikenessDrawn | None:
    """The table and the picture; None where fewer than two voices are long enough."""
    if found is None:
        return None
    every = [delta for row in found.deltas for delta in row if delta]
    least, most = min(every, default=0.0), max(every, default=1.0)
    rows = tuple(
        NearRow(
            name,
            tuple(
                _near(other, delta, least, most) if other != name else None
                for other, delta in zip(found.names, deltas, strict=True)
            ),
            ROW * at + ROW // 2,
        )
        for at, (name, deltas) in enumerate(zip(found.names, found.deltas, strict=True))
    )
    return LikenessDrawn(rows, found.too_short)


def _near(name: str, delta: float, least: float, most: float) -> Near:
    along = (delta - least) / (most - least) if most > least else 0.5
    level = min(int((1 - along) * LEVELS) + 1, LEVELS)
    return Near(name, delta, level, round(LABEL + 10 + (WIDTH - LABEL - 30) * delta / most, 1) if most else LABEL)
