"""A script's elements as passages: the rows each of them prints, and what of it may stand on different pages.

A speech or an action breaks with at least two of its lines on each side; a cue, a parenthetical and the blank rows
beside a break count for none of these.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate, zip_longest
from typing import TYPE_CHECKING

from screenplay.fountain import runs
from screenplay.model import Block, Element, Heading, Kind, Printed, Run, Speech
from screenplay.page.page_labels import breaks_in_lines
from screenplay.page.paper import (
    ACTION,
    CENTERED,
    LEFT_SPEECH,
    RIGHT_SPEECH,
    SPEECH,
    TRANSITION,
    Edge,
    Measure,
    SpeechMeasures,
)
from screenplay.page.rows import BLANK_ROW, Cell, Row
from screenplay.page.scene_numbers import NumbersByScene
from screenplay.page.wrapping import broken_at, clipped, columns, wrap

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from screenplay.page.paper import PageSetting

    Breaks = Mapping[int, Sequence[int]]  # by source line, the offsets in it that a row begins at

MORE = "(MORE)"
OMITTED = "OMITTED"
CONTINUED = "(CONT'D)"
LEAST_LINES = 2  # of a broken speech or action, on each side of the break
BLANK_LINES_BETWEEN = 1

_BLOCK_MEASURES = {
    Kind.ACTION: ACTION,
    Kind.CENTERED: CENTERED,
    Kind.LYRIC: SPEECH.dialogue,
    Kind.TRANSITION: TRANSITION,
}
_STANZAS = {Kind.CENTERED, Kind.LYRIC}
_NO_CELLS: tuple[Cell, ...] = ()


@dataclass(frozen=True, slots=True)
class Strand:
    """What runs down a passage and is broken with care: an action, or one speech with its cue.

    `lines_before[i]` is how many of its own lines stand in the passage's first `i` rows, `uneasy` the rows that it
    may not end a page with, `end` the row after its last. `again` is its cue as said again on the next page, and `more`
    what tells that it goes on; an action has neither.
    """

    lines_before: tuple[int, ...]
    uneasy: frozenset[int]
    end: int
    again: Cell | None = None
    more: Cell | None = None

    def may_break(self, start: int, at: int) -> bool:
        """Whether what begins at row `start` may go to the next page with row `at`, or has ended before."""
        if at >= self.end:
            return True
        before = self.lines_before[at] - self.lines_before[start]
        after = self.lines_before[self.end] - self.lines_before[at]
        return before >= LEAST_LINES and after >= LEAST_LINES and at - 1 not in self.uneasy


@dataclass(frozen=True, slots=True)
class Passage:
    """What one element prints, as rows, with `gap` blank lines before it unless it begins a page.

    One without strands is not broken while it fits on a page. `scene` is the ordinal of the scene it begins, 0 for
    none; `breaks_page` says that what follows begins a page. `is_pair` says that two speeches stand side by side:
    these stay together if they can. `tail` is how many of its last rows are transitions, which are not parted from it.
    `page_starts` are the rows at which locked pages begin, rising, with what these are called.
    """

    rows: tuple[Row, ...]
    gap: int = BLANK_LINES_BETWEEN
    strands: tuple[Strand, ...] = ()
    scene: int = 0
    breaks_page: bool = False
    is_pair: bool = False
    is_transition: bool = False
    tail: int = 0
    page_starts: tuple[tuple[int, tuple[str, ...]], ...] = ()

    @property
    def is_heading(self) -> bool:
        return self.scene > 0

    @property
    def begins_page(self) -> tuple[str, ...]:
        """What the locked pages are called that it begins; none where it begins none."""
        return self.page_starts[0][1] if self.page_starts and not self.page_starts[0][0] else ()

    def may_break(self, start: int, at: int) -> bool:
        if self.tail and at >= len(self.rows) - self.tail:
            return False
        return bool(self.strands) and all(strand.may_break(start, at) for strand in self.strands)

    def start_of_page(self, at: int) -> int:
        """Where a page begins that is to begin with row `at`: there, or with a speech of which nothing was said yet."""
        return 0 if any(not strand.lines_before[min(at, strand.end)] for strand in self.strands) else at

    def row_again(self, at: int) -> Row:
        """The cues said again above row `at`; a row without cells where there is none to say."""
        return Row(tuple(strand.again for strand in self.strands if strand.again and at < strand.end and at > 0))

    def row_more(self, at: int) -> Row:
        """What tells below a break at row `at` that the speech goes on; a row without cells where none does."""
        return Row(tuple(strand.more for strand in self.strands if strand.more and at < strand.end))


def passages(elements: Sequence[Element], setting: PageSetting) -> Iterator[Passage]:
    """The passages that the elements print, in order. Every heading and page break has one, blank or not.

    The scenes have their numbers from the setting where it has any; then OMITTED stands, for each scene that was cut,
    before the heading of the scene that it comes before, or at the end.
    """
    gap = setting.blank_lines_before_heading
    numbers = NumbersByScene.of(setting.scene_numbers)
    breaks = breaks_in_lines(setting.locked_pages)
    scene = 0
    index = 0
    while index < len(elements):
        element = elements[index]
        group = 1
        if isinstance(element, Heading):
            scene += 1
            yield from _omitted(numbers.omitted_before.get(scene, ()), gap)
            yield _heading(element, scene, gap, numbers.number_of.get(scene, element.number), breaks)
        elif isinstance(element, Speech):
            right = elements[index + 1] if index + 1 < len(elements) else None
            if isinstance(right, Speech) and right.dual:
                group = 2
                yield _pair(element, right, breaks)
            else:
                yield from _if_printed(_speech(element, breaks))
        elif element.kind is Kind.PAGE_BREAK:
            yield Passage((), breaks_page=True)
        elif element.kind in _BLOCK_MEASURES:
            group = _stanza_length(elements, index)
            yield from _if_printed(_block(element.kind, _lines_of(elements[index : index + group]), breaks))
        index += group
    yield from _omitted(numbers.omitted_last, gap)


def _omitted(numbers: Iterable[str], gap: int) -> Iterator[Passage]:
    """A line for each scene that was cut, in the place of its heading."""
    for number in numbers:
        cell = Cell(Kind.SCENE_HEADING, None, ACTION.column, (Run(OMITTED, 0),), "omitted")
        yield Passage((Row((cell,), number),), gap=gap)


def _if_printed(passage: Passage) -> Iterator[Passage]:
    if passage.rows:
        yield passage


def _stanza_length(elements: Sequence[Element], first: int) -> int:
    """How many elements from here are of one kind, line under line: a song or a title in several lines."""
    element = elements[first]
    if not isinstance(element, Block) or element.kind not in _STANZAS:
        return 1
    last = first
    while last + 1 < len(elements):
        following = elements[last + 1]
        touches = following.first_line == elements[last].last_line + 1
        if not (isinstance(following, Block) and following.kind is element.kind and touches):
            break
        last += 1
    return last - first + 1


def _lines_of(elements: Iterable[Element]) -> Iterator[Printed]:
    for element in elements:
        if isinstance(element, Block):
            yield from element.lines


def _heading(heading: Heading, scene: int, gap: int, number: str | None, breaks: Breaks) -> Passage:
    rows = [Row(cells) for cells in _cells(heading.printed, ACTION, breaks)]
    if rows and number is not None:
        rows[0] = Row(rows[0].cells, number)
    return Passage(tuple(rows), gap=gap, scene=scene)


def _block(kind: Kind, lines: Iterable[Printed], breaks: Breaks) -> Passage:
    measure = _BLOCK_MEASURES[kind]
    keep_indent = kind is Kind.ACTION
    rows = _stripped([row for line in lines for row in _cells_or_blank(line, measure, breaks, keep_indent=keep_indent)])
    strand = Strand(_running_count(bool(cells) for cells in rows), frozenset(), len(rows))
    printed = tuple(Row(cells) if cells else BLANK_ROW for cells in rows)
    return Passage(printed, strands=(strand,), is_transition=kind is Kind.TRANSITION)


def _speech(speech: Speech, breaks: Breaks) -> Passage:
    rows, strand = _strand(speech, SPEECH, breaks)
    return Passage(tuple(Row(cells) if cells else BLANK_ROW for cells in rows), strands=(strand,))


def _pair(left: Speech, right: Speech, breaks: Breaks) -> Passage:
    left_rows, left_strand = _strand(left, LEFT_SPEECH, breaks)
    right_rows, right_strand = _strand(right, RIGHT_SPEECH, breaks)
    pairs = zip_longest(left_rows, right_rows, fillvalue=_NO_CELLS)
    rows = tuple(Row(pair) if (pair := (*one, *other)) else BLANK_ROW for one, other in pairs)
    return Passage(rows, strands=(left_strand, right_strand), is_pair=True)


def _strand(speech: Speech, measures: SpeechMeasures, breaks: Breaks) -> tuple[list[tuple[Cell, ...]], Strand]:
    """A speech's rows, each with its cell or none, and how it breaks."""
    rows = _cells(speech.cue, measures.cue, breaks, side=measures.side)
    said: list[tuple[Cell, ...]] = []
    for line in speech.lines:
        measure = measures.parenthetical if line.kind is Kind.PARENTHETICAL else measures.dialogue
        said += _cells_or_blank(line, measure, breaks, side=measures.side)
    rows += _stripped(said)
    kinds = [cells[0].kind if cells else None for cells in rows]
    strand = Strand(
        lines_before=_running_count(kind in {Kind.DIALOGUE, Kind.LYRIC} for kind in kinds),
        uneasy=frozenset(index for index, kind in enumerate(kinds) if kind is Kind.PARENTHETICAL),
        end=len(rows),
        again=_added("contd", _cue_again(speech, measures.cue.width), measures),
        more=_added("more", MORE, measures),
    )
    return rows, strand


def _cue_again(speech: Speech, width: int) -> str:
    cue = "".join(run.text for run in runs(speech.cue))
    if cue.replace("’", "'").upper().endswith(CONTINUED):
        return clipped(cue, width)
    return f"{clipped(cue, width - len(CONTINUED) - 1)} {CONTINUED}"


def _added(added: str, text: str, measures: SpeechMeasures) -> Cell:
    return Cell(Kind.CHARACTER, None, measures.cue.column, (Run(text, 0),), added, measures.side)


def _cells(
    line: Printed, measure: Measure, breaks: Breaks, *, keep_indent: bool = False, side: str = ""
) -> list[tuple[Cell, ...]]:
    """A source line's rows, of one cell each; none where it prints nothing but space."""
    kind, number, column = line.kind, line.line, measure.column
    rows = _wrapped(line, measure.width, breaks.get(number, ()), keep_indent)
    if measure.edge is Edge.LEFT:
        return [(Cell(kind, number, column, row, "", side),) for row in rows]
    return [(Cell(kind, number, measure.column_of(_columns(row)), row, "", side),) for row in rows]


def _wrapped(line: Printed, width: int, breaks: Sequence[int], keep_indent: bool) -> list[tuple[Run, ...]]:
    """A source line's rows, of which one begins at each of the offsets in it that are `breaks`."""
    text = _in_italics(runs(line)) if line.kind is Kind.LYRIC else runs(line)
    if not breaks:
        return wrap(text, width, keep_indent=keep_indent)
    first, *others = broken_at(text, breaks)
    return [*wrap(first, width, keep_indent=keep_indent), *(row for part in others for row in wrap(part, width))]


def _in_italics(text: tuple[Run, ...]) -> tuple[Run, ...]:
    """What is sung is in italics (M), which tells it from what is said."""
    return tuple([run._replace(italic=True) for run in text])


def _columns(row: tuple[Run, ...]) -> int:
    return sum(columns(run.text) for run in row)


def _cells_or_blank(
    line: Printed, measure: Measure, breaks: Breaks, *, keep_indent: bool = False, side: str = ""
) -> list[tuple[Cell, ...]]:
    """The same; a row of no cell where the line is blank, as a line of two spaces in a speech is."""
    return _cells(line, measure, breaks, keep_indent=keep_indent, side=side) or [_NO_CELLS]


def _stripped(rows: list[tuple[Cell, ...]]) -> list[tuple[Cell, ...]]:
    """The rows without the blank ones at both ends."""
    first, end = 0, len(rows)
    while first < end and not rows[first]:
        first += 1
    while first < end and not rows[end - 1]:
        end -= 1
    return rows[first:end]


def _running_count(flags: Iterable[bool]) -> tuple[int, ...]:
    return tuple(accumulate(map(int, flags), initial=0))
