"""Two speeches side by side on a typed page: where the gutter between them runs, and the lines on each side of it."""

from __future__ import annotations

from collections import Counter
from operator import itemgetter
from typing import TYPE_CHECKING, NamedTuple

from screenplay.fountain import is_upper
from screenplay.intake.element_columns import LEAST_INDENT, NEAR
from screenplay.intake.typed_pages import WIDE_GAP, TypedLine

if TYPE_CHECKING:
    from collections.abc import Sequence

    from screenplay.intake.element_columns import TypedBlock


_MOST_TRIED = 8  # places where the right-hand speech may begin
_LEAST_SIDE_BY_SIDE = 2  # lines that show a gutter of one space to be no chance
_SLACK = NEAR / 2


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
    said = block.lines[1:]
    tried = [(edge, sides) for edge in _edges(said, *cues) if (sides := _parted(said, edge))]
    wide = [sides for _, sides in sorted(tried, key=itemgetter(0)) if sides.gap >= WIDE_GAP]
    narrow = [sides for edge, sides in tried if _is_narrow_gutter(sides, edge, *cues)]
    if not wide and not narrow:
        return None
    sides = (wide or narrow)[0]
    return [cues[0], *sides.left], [cues[1], *sides.right]


class Sides(NamedTuple):
    """What stands on both sides of an edge; `gap` is the least number of spaces there in a line that has words on both,
    and `beside` the number of such lines."""

    left: list[TypedLine]
    right: list[TypedLine]
    gap: int
    beside: int


def _edges(lines: Sequence[TypedLine], left: TypedLine, right: TypedLine) -> list[float]:
    """Where the right-hand speech may begin, between the two cues: where most lines have a word's beginning first."""
    starts = (word.left for line in lines for word in line.words)
    counts = Counter(start for start in starts if left.right < start <= right.left + NEAR)
    return [edge for edge, _ in counts.most_common(_MOST_TRIED)]


def _parted(lines: Sequence[TypedLine], edge: float) -> Sides | None:
    """The lines parted at an edge; None where a word stands across it, or nothing on one side of it."""
    sides = Sides([], [], WIDE_GAP, 0)
    for line in lines:
        cut = sum(word.left < edge - _SLACK for word in line.words)
        if cut and line.words[cut - 1].right > edge:
            return None
        if 0 < cut < len(line.words):
            sides = sides._replace(gap=min(sides.gap, line.words[cut].gap), beside=sides.beside + 1)
        for side, part in ((sides.left, line.only(0, cut)), (sides.right, line.only(cut))):
            if part.words:
                side.append(part)
    return sides if sides.left and sides.right else None


def _is_narrow_gutter(sides: Sides, edge: float, left: TypedLine, right: TypedLine) -> bool:
    """Whether an edge with fewer spaces before it than set things apart is one by all else: lines on both sides begin
    at one place, and the cues stand farther in."""
    margin = min(line.left for line in sides.left)
    return (
        sides.beside >= _LEAST_SIDE_BY_SIDE
        and left.left - margin >= LEAST_INDENT
        and right.left - edge >= LEAST_INDENT
        and _begin_at(sides.left, margin)
        and _begin_at(sides.right, edge)
    )


def _begin_at(lines: Sequence[TypedLine], place: float) -> bool:
    """Whether all lines begin at a place, but for parentheticals, which may stand farther in."""
    return all(abs(line.left - place) <= _SLACK or line.text[0] == "(" or line.text[-1] == ")" for line in lines)
