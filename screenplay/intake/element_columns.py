"""Where the elements of a typed script stand, found in the script itself: the columns that each of them begins in."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.fountain import SETTING, is_upper
from screenplay.intake.typed_pages import TypedLine, TypedPage

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

NEAR_IN_COLUMNS = 1.6  # columns: what is no farther off stands in the same place
LEAST_INDENT = 2.5  # columns from one element's place to the next one's, in the tightest of typing
_LEAST_SHARE = 0.02  # of the blocks
_ALMOST_ALL = 0.995


@dataclass(frozen=True, slots=True)
class TypedBlock:
    """Lines of a page without a blank one between them, at least one. `gap` is the number of blank lines before it,
    0 at the top of a page, where `begins_page` says so."""

    lines: tuple[TypedLine, ...]
    gap: int
    begins_page: bool
    page: int

    @property
    def first(self) -> TypedLine:
        return self.lines[0]


@dataclass(frozen=True, slots=True)
class ElementColumns:
    """The columns where elements begin. `right` is where lines of action end at most; `dialogue` and `cue` are None
    where nobody speaks; `cues` says how many speeches tell it. `middle` is halfway along a line of action."""

    action: float
    right: float
    dialogue: float | None
    dialogue_right: float
    parenthetical: float | None
    cue: float | None
    cues: int

    @property
    def middle(self) -> float:
        return (self.action + self.right) / 2


def blocks_of(pages: Sequence[TypedPage]) -> list[TypedBlock]:
    """The blocks of all pages, in order; `page` counts pages from 1."""
    return [block for number, page in enumerate(pages, 1) for block in _blocks(page, number)]


def _blocks(page: TypedPage, number: int) -> Iterator[TypedBlock]:
    lines: list[TypedLine] = []
    blank, is_first = 0, True
    for line in [*page, TypedLine(0)]:
        if line.words:
            lines.append(line)
        elif lines:
            yield TypedBlock(tuple(lines), 0 if is_first else blank, is_first, number)
            lines, blank, is_first = [], 1, False
        else:
            blank += 1


def find_element_columns(blocks: Sequence[TypedBlock]) -> ElementColumns:
    """The columns of a script's elements; those of the trade where the script does not show them."""
    action = _action_edge(blocks)
    under_cues = [block for block in blocks if _may_be_speech(block, action)]
    dialogue = _commonest(_said(block) for block in under_cues)
    speeches = [
        block for block in under_cues if dialogue is not None and abs(_said(block) - dialogue) <= NEAR_IN_COLUMNS
    ]
    cue = _commonest(block.first.left for block in speeches)
    rest = [line for block in speeches for line in block.lines[1:]]
    said = [line for line in rest if dialogue is not None and abs(line.left - dialogue) <= NEAR_IN_COLUMNS]
    parenthetical = _commonest(line.left for line in rest if line.text[0] == "(" and line.text != "(MORE)")
    told = [line for block in blocks for line in block.lines if abs(line.left - action) <= NEAR_IN_COLUMNS]
    return ElementColumns(
        action=action,
        right=_right_edge(told, action + 60),
        dialogue=dialogue,
        dialogue_right=_right_edge(said, (dialogue or action) + 35),
        parenthetical=parenthetical,
        cue=cue,
        cues=len(speeches),
    )


def _action_edge(blocks: Sequence[TypedBlock]) -> float:
    """Where headings begin; in a script without any, the leftmost place of many blocks."""
    headings = [block.first for block in blocks if SETTING.match(block.first.text) or block.first.scene]
    edge = _commonest(line.left for line in headings)
    lefts = Counter(_whole(block.first.left) for block in blocks)
    least = _LEAST_SHARE * lefts.total()
    leftmost = min((left for left, count in lefts.items() if count >= least), default=0.0)
    return leftmost if edge is None else edge


def _may_be_speech(block: TypedBlock, action: float) -> bool:
    """Whether a block looks like a cue with something said under it, less far to the right."""
    if len(block.lines) < 2 or block.first.scene:
        return False
    cue, under = block.first, block.lines[1]
    indents = under.left - action >= LEAST_INDENT and cue.left - under.left >= LEAST_INDENT
    return indents and is_upper(cue.text) and len(cue.text) <= 60


def _said(block: TypedBlock) -> float:
    """Where the first line of a speech begins that is no parenthetical."""
    for line in block.lines[1:]:
        if line.text[0] != "(" and abs(line.left - block.first.left) > NEAR_IN_COLUMNS:
            return line.left
    return block.lines[1].left


def _commonest(lefts: Iterable[float]) -> float | None:
    """The place that most of them share, give or take a column."""
    counts = Counter(map(_whole, lefts))
    if not counts:
        return None
    return max(counts, key=lambda left: (2 * counts[left] + counts[left - 1] + counts[left + 1], -left))


def _whole(left: float) -> float:
    return float(round(left))


def _right_edge(lines: Sequence[TypedLine], otherwise: float) -> float:
    """Where all but a few of the lines end at most."""
    if len(lines) < 20:
        return max([otherwise, *(line.right for line in lines if line.right <= otherwise + NEAR_IN_COLUMNS)])
    return sorted(line.right for line in lines)[int(len(lines) * _ALMOST_ALL)]
