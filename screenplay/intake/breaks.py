"""How the lines of each kind of element are broken, all through a typed script."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay.intake.element_columns import NEAR_IN_COLUMNS
from screenplay.intake.rejoining import Habits, find_habits
from screenplay.intake.side_by_side import speeches_apart

if TYPE_CHECKING:
    from collections.abc import Sequence

    from screenplay.intake.element_columns import ElementColumns, TypedBlock
    from screenplay.intake.typed_pages import TypedLine


class LineBreaks:
    """The habits of lines of action, of dialogue and of parentheticals, and of speeches side by side."""

    def __init__(self, blocks: Sequence[TypedBlock], columns: ElementColumns) -> None:
        told = [block.lines for block in blocks if _at(block.lines, columns.action)]
        under_cues = [block.lines[1:] for block in blocks]
        said = [[line for line in lines if _at([line], columns.dialogue)] for lines in under_cues]
        asides = [[line for line in lines if _at([line], columns.parenthetical)] for lines in under_cues]
        beside = [speech[1:] for block in blocks for speech in speeches_apart(block) or ()]
        self.action = find_habits(told, columns.right)
        self.dialogue = find_habits(said, columns.dialogue_right)
        self.parenthetical = find_habits(asides, max((line.right for lines in asides for line in lines), default=0.0))
        self._side_width = max((line.right - _left(speech) for speech in beside for line in speech), default=0.0)

    def of_side(self, lines: Sequence[TypedLine]) -> Habits:
        """The habits of a speech that stands beside another: it has the width of the widest of them."""
        return Habits(_left(lines) + self._side_width)


def _left(lines: Sequence[TypedLine]) -> float:
    return min((line.left for line in lines if line.words), default=0.0)


def _at(lines: Sequence[TypedLine], place: float | None) -> bool:
    return place is not None and bool(lines) and abs(lines[0].left - place) <= NEAR_IN_COLUMNS
