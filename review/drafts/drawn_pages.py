"""A draft's pages as HTML. They follow from its text and its page setting, so they are made once and kept by both."""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from django.template.loader import render_to_string
from django.utils.safestring import SafeString, mark_safe

from review.drafts.scripts import laid_out
from review.kept import kept
from screenplay.page import RIGHT_SPEECH

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from review.drafts.models import Draft, PagesKey
    from screenplay.model import Run
    from screenplay.page import Cell, Row

BYTES_A_LINE = 300  # of what is kept beside the HTML, as measured
LINE_MARK = re.compile(r' data-line="(\d+)"')
MARKER_PLACE = re.compile(r"<!--(\d+)-->")
TEMPLATE_LINE_END = re.compile(r"(?:\n *)+(<|>|$)?")


@dataclass(frozen=True, slots=True)
class DrawnRow:
    """One row of a line, which begins at a column of the paper.

    `space_at` is the offset of the space at which the line was broken after this row, None where it was broken within
    a word or ends: a narrow page joins the rows with it.
    """

    column: int
    runs: tuple[Run, ...]
    space_at: int | None = None

    def followed_by(self, runs: tuple[Run, ...]) -> DrawnRow:
        end = self.runs[-1].start + len(self.runs[-1].text)
        return replace(self, space_at=end if end < runs[0].start else None)


@dataclass(slots=True)
class DrawnLine:
    """What one source line puts on one page, row by row. `gap` is the number of blank rows above it.

    `line` is None where the layout added the rows. `begins` says that the line starts on this page. `number` is the
    scene number that stands in both margins.
    """

    line: int | None
    kind: str
    gap: int
    begins: bool
    number: str | None = None
    rows: list[DrawnRow] = field(default_factory=list)

    @property
    def tag(self) -> str:
        """The HTML element that it is."""
        return "h2" if self.kind == "scene_heading" else "p"

    def add(self, cell: Cell, shift: int) -> None:
        if self.rows:
            self.rows[-1] = self.rows[-1].followed_by(cell.runs)
        self.rows.append(DrawnRow(max(cell.column - shift, 0), cell.runs))


@dataclass(slots=True)
class SideBySide:
    """Two speeches side by side."""

    gap: int
    left: list[DrawnLine] = field(default_factory=list)
    right: list[DrawnLine] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class DrawnPage:
    """One page, ready to be shown. `label` is what it is called, "" for the title page. `lines` are the source lines
    printed on it."""

    label: str
    html: str
    lines: frozenset[int]

    def with_notes(self, noted: frozenset[int], markers: Mapping[int, str]) -> SafeString:
        """The page with its noted lines marked. `markers` are HTML, each for the end of the line it is keyed by."""
        html = self.html
        if not self.lines.isdisjoint(noted):
            html = LINE_MARK.sub(lambda at: at[0] + (" data-noted" if int(at[1]) in noted else ""), html)
            html = MARKER_PLACE.sub(lambda at: markers.get(int(at[1]), ""), html)
        return mark_safe(html)  # noqa: S308 - rendered from templates


@dataclass(frozen=True, slots=True)
class DrawnPages:
    """All pages of a draft, the title page first. `page_of` says on which, counted from 0, a printed line begins."""

    pages: tuple[DrawnPage, ...]
    page_of: Mapping[int, int]
    printed: tuple[int, ...]

    def first_printed(self, first: int, last: int) -> int | None:
        """The first printed line of these; where none is, the nearest before them, else the script's first."""
        at = bisect_left(self.printed, first)
        if at < len(self.printed) and self.printed[at] <= last:
            return self.printed[at]
        return self.printed[max(bisect_right(self.printed, first) - 1, 0)] if self.printed else None


def draw_pages(draft: Draft) -> DrawnPages:
    """The draft's pages. Laying them out and rendering them happens once for a text and a page setting."""
    return _draw_pages(draft.pages_key)


def _weigh(drawn: DrawnPages) -> int:
    return sum(len(page.html) for page in drawn.pages) + BYTES_A_LINE * len(drawn.page_of)


@kept(_weigh)
def _draw_pages(pages: PagesKey) -> DrawnPages:
    layout = laid_out(pages.draft).layout
    labelled: list[tuple[str, Sequence[Row]]] = [(page.label, page.rows) for page in layout.pages]
    if layout.title_page:
        labelled.insert(0, ("", layout.title_page))
    drawn: list[DrawnPage] = []
    page_of: dict[int, int] = {}
    for at, (label, rows) in enumerate(labelled):
        html = _draw(_blocks(rows, frozenset(page_of)))
        here = frozenset(cell.line for row in rows for cell in row.cells if cell.line is not None)
        page_of = dict.fromkeys(here, at) | page_of
        drawn.append(DrawnPage(label, html, here))
    return DrawnPages(tuple(drawn), page_of, tuple(sorted(page_of)))


def draw_rows(rows: Sequence[Row]) -> SafeString:
    """Rows of a page as HTML, by themselves: without the doors for notes that a published draft has."""
    return _draw(_blocks(rows, frozenset()), is_plain=True)


def _draw(blocks: Iterator[DrawnLine | SideBySide], *, is_plain: bool = False) -> SafeString:
    """The template's own line ends go: a space between two rows would show where a narrow page joins them.

    A line of a script holds no line end. What the template breaks within a tag keeps one space.
    """
    html = render_to_string("drafts/drawn_page.html", {"blocks": list(blocks), "is_plain": is_plain})
    return mark_safe(TEMPLATE_LINE_END.sub(lambda at: " " if at[1] is None else at[1], html))  # noqa: S308 - as rendered


def _blocks(rows: Sequence[Row], begun: frozenset[int]) -> Iterator[DrawnLine | SideBySide]:
    """The rows of a page joined to lines, and the lines of two speeches side by side to one block."""
    gap = 0
    block: DrawnLine | SideBySide | None = None
    for row in rows:
        if not row.cells:
            gap += 1
            continue
        if row.cells[0].side:
            if not isinstance(block, SideBySide) or gap:
                block = SideBySide(gap)
                yield block
            _add_both_speeches(block, row, begun)
        else:
            cell = row.cells[0]
            if not isinstance(block, DrawnLine) or gap or not _goes_on(block, cell):
                block = _new_line(cell, gap, begun, row.number)
                yield block
            block.add(cell, 0)
        gap = 0


def _add_both_speeches(block: SideBySide, row: Row, begun: frozenset[int]) -> None:
    for cell in row.cells:
        lines, shift = (block.left, 0) if cell.side == "left" else (block.right, RIGHT_SPEECH.dialogue.column)
        if not lines or not _goes_on(lines[-1], cell):
            lines.append(_new_line(cell, 0, begun))
        lines[-1].add(cell, shift)


def _goes_on(line: DrawnLine, cell: Cell) -> bool:
    return line.line is not None and line.line == cell.line and line.kind == cell.kind


def _new_line(cell: Cell, gap: int, begun: frozenset[int], number: str | None = None) -> DrawnLine:
    return DrawnLine(cell.line, cell.kind, gap, cell.line is not None and cell.line not in begun, number)
