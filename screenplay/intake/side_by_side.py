"""Two speeches side by side on a typed page: where the gutter between them runs, and the lines on each side of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay.fountain import is_upper
from screenplay.intake.element_columns import NEAR
from screenplay.intake.typed_pages import WIDE_GAP, TypedLine

if TYPE_CHECKING:
    from collections.abc import Iterator

    from screenplay.intake.element_columns import TypedBlock


def two_sides(block: TypedBlock) -> tuple[list[TypedLine], list[TypedLine]] | None:
    """The lines of two speeches side by side, each with its cue first; None where the block is no such pair.

    Both begin in the block's first line with upper-case cues, and a gutter runs between them down the block.
    """
    words = block.first.words
    if len(block.lines) < 2 or block.first.scene or not any(word.gap >= WIDE_GAP for word in words):
        return None
    cut = next(index for index, word in enumerate(words) if word.gap >= WIDE_GAP)
    cues = block.first.only(0, cut), block.first.only(cut)
    if not all(is_upper(cue.text) and not any(word.gap >= WIDE_GAP for word in cue.words) for cue in cues):
        return None
    gutter = _gutter(block, cues[0].right, cues[1].left)
    if gutter is None:
        return None
    sides = [list(side) for side in zip(*_parted(block, gutter), strict=True)]
    left, right = ([line for line in side if line.words] for side in sides)
    return (left, right) if len(left) > 1 and len(right) > 1 else None


def _gutter(block: TypedBlock, left: float, right: float) -> float | None:
    """A column between the two that no word of the block crosses, with a wide gap around it in every line."""
    for line in block.lines[1:]:
        for before, word in zip((None, *line.words), line.words, strict=False):
            if word.left >= right + NEAR:
                break
            if word.left > left and (before is None or word.gap >= WIDE_GAP):
                right = min(right, word.left)
    crosses = any(word.left < right - NEAR < word.right for line in block.lines for word in line.words)
    return None if crosses or right <= left else right - NEAR


def _parted(block: TypedBlock, gutter: float) -> Iterator[tuple[TypedLine, TypedLine]]:
    for line in block.lines:
        cut = sum(word.right <= gutter + NEAR / 2 for word in line.words)
        yield line.only(0, cut), line.only(cut)
