"""Two speeches side by side on a typed page: where the gutter between them runs, and the lines on each side of it."""

from __future__ import annotations

from collections import Counter
from operator import itemgetter
from typing import TYPE_CHECKING, NamedTuple

from screenplay.fountain import is_upper
from screenplay.intake.element_columns import LEAST_INDENT, NEAR_IN_COLUMNS
from screenplay.intake.typed_pages import WIDE_GAP, TypedLine

if TYPE_CHECKING:
    from collections.abc import Sequence

    from screenplay.intake.element_columns import TypedBlock


_MOST_TRIED = 8  # places where the right-hand speech may begin
_LEAST_SIDE_BY_SIDE = 2  # lines that show a gutter of one space to be no chance
_SLACK = NEAR_IN_COLUMNS / 2


def speeches_apart(block: TypedBlock) -> tuple[list[TypedLine], list[TypedLine]] | None:
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
    tried = [(edge, apart) for edge in _edges(said, *cues) if (apart := _parted(said, edge))]
    wide = [apart for _, apart in sorted(tried, key=itemgetter(0)) if apart.gap >= WIDE_GAP]
    narrow = [apart for edge, apart in tried if _is_narrow_gutter(apart, edge, *cues)]
    if not wide and not narrow:
        return None
    apart = (wide or narrow)[0]
    return [cues[0], *apart.left], [cues[1], *apart.right]


class LinesApart(NamedTuple):
    """What stands left and right of an edge; `gap` is the least number of spaces there in a line that has words on
    both, and `beside` the number of such lines."""

    left: list[TypedLine]
    right: list[TypedLine]
    gap: int
    beside: int


def _edges(lines: Sequence[TypedLine], left: TypedLine, right: TypedLine) -> list[float]:
    """Where the right-hand speech may begin, between the two cues: where most lines have a word's beginning first."""
    starts = (word.left for line in lines for word in line.words)
    counts = Counter(start for start in starts if left.right < start <= right.left + NEAR_IN_COLUMNS)
    return [edge for edge, _ in counts.most_common(_MOST_TRIED)]


def _parted(lines: Sequence[TypedLine], edge: float) -> LinesApart | None:
    """The lines parted at an edge; None where a word stands across it, or nothing on one side of it."""
    apart = LinesApart([], [], WIDE_GAP, 0)
    for line in lines:
        cut = sum(word.left < edge - _SLACK for word in line.words)
        if cut and line.words[cut - 1].right > edge:
            return None
        if 0 < cut < len(line.words):
            apart = apart._replace(gap=min(apart.gap, line.words[cut].gap), beside=apart.beside + 1)
        for side, part in ((apart.left, line.only(0, cut)), (apart.right, line.only(cut))):
            if part.words:
                side.append(part)
    return apart if apart.left and apart.right else None


def _is_narrow_gutter(apart: LinesApart, edge: float, left: TypedLine, right: TypedLine) -> bool:
    """Whether an edge with fewer spaces before it than set things apart is one by all else: lines left and right begin
    at one place, and the cues stand farther in."""
    margin = min(line.left for line in apart.left)
    return (
        apart.beside >= _LEAST_SIDE_BY_SIDE
        and left.left - margin >= LEAST_INDENT
        and right.left - edge >= LEAST_INDENT
        and _begin_at(apart.left, margin)
        and _begin_at(apart.right, edge)
    )


def _begin_at(lines: Sequence[TypedLine], place: float) -> bool:
    """Whether all lines begin at a place, but for parentheticals, which may stand farther in."""
    return all(abs(line.left - place) <= _SLACK or line.text[0] == "(" or line.text[-1] == ")" for line in lines)
