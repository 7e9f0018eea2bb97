"""Who is in which scene, as a picture: scenes along, as wide as they are long; the cast down; a bar where somebody
speaks, and a thinner one where the action names them and they say nothing."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.fountain import same_name

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.scenes.breakdown import BreakdownRow

LABEL, ROW, UNIT, LEAST_WIDTH, MOST_CAST = 130, 22, 4, 720, 40
SPEAKING, NAMED = 14, 4  # how high a bar is


@dataclass(frozen=True, slots=True)
class PresenceBar:
    """Somebody in a scene: where the bar stands, and whether they speak."""

    row: BreakdownRow
    x: float
    y: float
    width: float
    height: int
    speaks: bool


@dataclass(frozen=True, slots=True)
class PresenceLine:
    """One of the cast, with their bars, in the order of the script."""

    name: str
    y: int
    bars: tuple[PresenceBar, ...]


@dataclass(frozen=True, slots=True)
class PresenceDrawn:
    """The picture: its lines, those with most scenes first; how wide and high it is; whom it leaves out for room."""

    lines: tuple[PresenceLine, ...]
    width: int
    height: int
    left_out: int


def draw_presence(rows: Sequence[BreakdownRow]) -> PresenceDrawn | None:
    """Who is in each of some scenes, in their order; None where nobody is in any."""
    scenes: Counter[str] = Counter()
    spelled: dict[str, str] = {}
    for row in rows:
        for name in row.needs.cast:
            scenes[same_name(name)] += 1
            spelled.setdefault(same_name(name), name)
    if not scenes:
        return None
    eighths = sum(row.needs.eighths for row in rows)
    unit = max(UNIT, (LEAST_WIDTH - LABEL) / eighths)
    cast = sorted(scenes, key=lambda key: (-scenes[key], key))
    lines = tuple(
        PresenceLine(spelled[key], ROW * at + ROW // 2, tuple(_bars(key, rows, ROW * at, unit)))
        for at, key in enumerate(cast[:MOST_CAST])
    )
    return PresenceDrawn(lines, round(LABEL + unit * eighths), ROW * len(lines), max(len(cast) - MOST_CAST, 0))


def _bars(key: str, rows: Sequence[BreakdownRow], top: int, unit: float) -> list[PresenceBar]:
    found: list[PresenceBar] = []
    x = float(LABEL)
    for row in rows:
        width = unit * row.needs.eighths
        speaks = key in map(same_name, row.needs.speaking)
        if speaks or key in map(same_name, row.needs.mentioned):
            height = SPEAKING if speaks else NAMED
            y = top + (ROW - height) / 2
            found.append(PresenceBar(row, round(x, 1), y, round(max(width - 1, 1), 1), height, speaks))
        x += width
    return found
