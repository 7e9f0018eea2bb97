"""Our own layout as plain text: pages in columns of spaces, the way scripts are passed around without formatting."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay.paper import (
    CHARACTERS_PER_INCH,
    LEFT_MARGIN_INCHES,
    LINES_PER_INCH,
    PAGE_NUMBER_INCHES,
    TEXT_COLUMNS,
    TOP_MARGIN_INCHES,
)
from screenplay.wrap import columns

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from screenplay.page import Layout, Page, Row

FORM_FEED = "\f"
_LEFT = int(LEFT_MARGIN_INCHES * CHARACTERS_PER_INCH)
_RIGHT = _LEFT + TEXT_COLUMNS
# Scene numbers stand an inch from the paper's left edge, and just outside of the text on the right.
_LEFT_NUMBER, _RIGHT_NUMBER = 10, _RIGHT + 2
_ABOVE_NUMBER = int(PAGE_NUMBER_INCHES * LINES_PER_INCH) - 1
_ABOVE_TEXT = int(TOP_MARGIN_INCHES * LINES_PER_INCH)


def print_pages(layout: Layout, *, scene_numbers: bool = True, form_feeds: bool = True) -> str:
    """The pages as plain text, a character for a tenth of an inch from the paper's left edge.

    The title page comes first, then the pages, each from the second on under its number at the right. With form feeds
    one stands between pages; without, a page is as many lines as its paper has, as a line printer takes it. Every line
    ends in LF. Styles are not shown. Scene numbers, where headings have them, stand in both margins on request.
    """
    sheets = [["", *_printed(layout.title_page, scene_numbers=False)]] if layout.title_page else []
    sheets += [_sheet(page, scene_numbers=scene_numbers, form_feeds=form_feeds) for page in layout.pages]
    if not form_feeds:
        lines = int(layout.paper.height_inches * LINES_PER_INCH)
        sheets = [[*sheet, *[""] * (lines - len(sheet))] for sheet in sheets]
    return (FORM_FEED if form_feeds else "").join("".join(f"{line}\n" for line in sheet) for sheet in sheets)


def _sheet(page: Page, *, scene_numbers: bool, form_feeds: bool) -> list[str]:
    """A page from the top of its paper, or from its number where a form feed has set the paper."""
    number = f"{page.number}.".rjust(_RIGHT) if page.number > 1 else ""
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
