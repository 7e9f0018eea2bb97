"""The lengths of a draft's scenes as a picture: a bar for each, as high as the scene is long, its dialogue and its
action told apart."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.scenes.breakdown import BreakdownRow

HEIGHT = 120
STEP, BAR = 16, 12


@dataclass(frozen=True, slots=True)
class SceneBar:
    """A scene's bar, in the picture's units: from the left, its height, and how much of that is dialogue."""

    row: BreakdownRow
    x: int
    height: float
    dialogue: float

    @property
    def top(self) -> float:
        return round(HEIGHT - self.height, 2)

    @property
    def dialogue_top(self) -> float:
        return round(HEIGHT - self.dialogue, 2)


@dataclass(frozen=True, slots=True)
class LengthsDrawn:
    """The picture: its bars, its width, and its height without the numbers under it. `longest` is in eighths."""

    bars: list[SceneBar]
    width: int
    height: int
    longest: int
    bar_width: int = BAR


def draw_lengths(rows: Sequence[BreakdownRow]) -> LengthsDrawn | None:
    """The lengths of some scenes, in the order given; None of none."""
    longest = max((row.needs.eighths for row in rows), default=0)
    if not longest:
        return None
    bars = []
    for at, row in enumerate(rows):
        height = HEIGHT * row.needs.eighths / longest
        dialogue = height * row.needs.dialogue_words / row.words if row.words else 0
        bars.append(SceneBar(row, at * STEP, round(height, 2), round(dialogue, 2)))
    return LengthsDrawn(bars, len(rows) * STEP, HEIGHT, longest)
