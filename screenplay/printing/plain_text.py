"""Our own layout as plain text: pages in columns of spaces, the way scripts are passed around without formatting."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from screenplay.model import Kind
from screenplay.page import (
    CHARACTERS_PER_INCH,
    LEFT_MARGIN_INCHES,
    LINES_PER_INCH,
    PAGE_NUMBER_INCHES,
    TEXT_COLUMNS,
    TOP_MARGIN_INCHES,
    columns,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from screenplay.page import Layout, Page, Row

FORM_FEED = "\f"
_LEFT = int(LEFT_MARGIN_INCHES * CHARACTERS_PER_INCH)
_RIGHT = _LEFT + TEXT_COLUMNS
# Scene numbers stand an inch from the paper's left edge, and just outside of the text on the right.
_LEFT_NUMBER, _RIGHT_NUMBER = 10, _RIGHT + 2
_ABOVE_NUMBER = int(PAGE_NUMBER_INCHES * LINES_PER_INCH) - 1
_ABOVE_TEXT = int(TOP_MARGIN_INCHES * LINES_PER_INCH)


def print_pages(layout: Layout, *, scene_numbers: bool = True, counted: bool = False, form_feeds: bool = True) -> str:
    """The pages as plain text, a character for a tenth of an inch from the paper's left edge.

    The title page comes first, then the pages, each from the second on under its number at the right. With form feeds
    one stands between pages; without, a page is as many lines as its paper has, as a line printer takes it. Every line
    ends in LF. Styles are not shown. Scene numbers, where headings have them, stand in both margins on request; with
    `counted`, a script that numbers no scene has them counted from 1.
    """
    pages = with_counted_scenes(layout.pages) if counted and scene_numbers else layout.pages
    printed = [["", *_printed(layout.title_page, scene_numbers=False)]] if layout.title_page else []
    printed += [_page_lines(page, scene_numbers=scene_numbers, form_feeds=form_feeds) for page in pages]
    if not form_feeds:
        lines = int(layout.paper.height_inches * LINES_PER_INCH)
        printed = [[*page, *[""] * (lines - len(page))] for page in printed]
    return (FORM_FEED if form_feeds else "").join("".join(f"{line}\n" for line in page) for page in printed)


def with_counted_scenes(pages: Sequence[Page]) -> Sequence[Page]:
    """The pages with their scenes counted from 1, unless any has a number of its own."""
    if any(row.number for page in pages for row in page.rows):
        return pages
    begun: dict[int, str] = {}
    return [replace(page, rows=tuple(_counted(row, begun) for row in page.rows)) for page in pages]


def _counted(row: Row, begun: dict[int, str]) -> Row:
    """The row with its scene's number if it is the first of a heading; `begun` are the headings so far."""
    if row.kind is not Kind.SCENE_HEADING or row.line is None or row.line in begun:
        return row
    begun[row.line] = str(len(begun) + 1)
    return row._replace(number=begun[row.line])


def _page_lines(page: Page, *, scene_numbers: bool, form_feeds: bool) -> list[str]:
    """A page from the top of its paper, or from its number where a form feed has set the paper."""
    number = page.head.rjust(_RIGHT) if page.head else ""
    rows = list(_printed(page.rows, scene_numbers=scene_numbers))
    if form_feeds:
        return [number, "", *rows] if number else rows
    above = [*[""] * _ABOVE_NUMBER, number]
    return [*above, *[""] * (_ABOVE_TEXT - len(above)), *rows]


def _printed(rows: Iterable[Row], *, scene_numbers: bool) -> Iterator[str]:
    for row in rows:
        number = row.number if scene_numbers else None
        text = f"{'':{_LEFT_NUMBER}}{number}" if number else ""
        for cell in row.cells:
            text = f"{_to_column(text, _LEFT + cell.column)}{cell.text}"
        yield f"{_to_column(text, _RIGHT_NUMBER)}{number}" if number else text


def _to_column(text: str, column: int) -> str:
    """`text` with spaces up to a column; two where it already stands there."""
    width = columns(text)
    return text + " " * (column - width if column > width or not text else 2)
