"""The page: a script laid out on paper by a page setting, in rows and columns, with its length and its numbers."""

from __future__ import annotations

from screenplay.page.excerpts import PAGES_BEGIN, end_of_pages, numbers_before, numbers_from, paginate_excerpt
from screenplay.page.filling import RowPosition
from screenplay.page.layout import in_pages, paginate
from screenplay.page.lines_on_paper import LineOnPaper, arrangement
from screenplay.page.locked_pages import (
    TITLE_PAGE,
    PageSwap,
    beginnings,
    page_swap,
    pages_with,
    swap_from_first_change,
)
from screenplay.page.page_labels import LockedPage
from screenplay.page.paper import (
    CHARACTERS_PER_INCH,
    LEFT_MARGIN_INCHES,
    LEFT_SPEECH,
    LINES_PER_INCH,
    PAGE_NUMBER_INCHES,
    RIGHT_SPEECH,
    SPEECH,
    TEXT_COLUMNS,
    TOP_MARGIN_INCHES,
    USUAL_SETTING,
    PageSetting,
    PaperSize,
)
from screenplay.page.rows import BLANK_ROW, Cell, Layout, Page, Row
from screenplay.page.scene_numbers import SceneNumber, is_between, number_between, same_number
from screenplay.page.title_page import printed_entry, stands_in_the_middle, title_of, title_rows
from screenplay.page.wrapping import clipped, columns, columns_of, wrap

__all__ = [
    "BLANK_ROW",
    "CHARACTERS_PER_INCH",
    "LEFT_MARGIN_INCHES",
    "LEFT_SPEECH",
    "LINES_PER_INCH",
    "PAGES_BEGIN",
    "PAGE_NUMBER_INCHES",
    "RIGHT_SPEECH",
    "SPEECH",
    "TEXT_COLUMNS",
    "TITLE_PAGE",
    "TOP_MARGIN_INCHES",
    "USUAL_SETTING",
    "Cell",
    "Layout",
    "LineOnPaper",
    "LockedPage",
    "Page",
    "PageSetting",
    "PageSwap",
    "PaperSize",
    "Row",
    "RowPosition",
    "SceneNumber",
    "arrangement",
    "beginnings",
    "clipped",
    "columns",
    "columns_of",
    "end_of_pages",
    "in_pages",
    "is_between",
    "number_between",
    "numbers_before",
    "numbers_from",
    "page_swap",
    "pages_with",
    "paginate",
    "paginate_excerpt",
    "printed_entry",
    "same_number",
    "stands_in_the_middle",
    "swap_from_first_change",
    "title_of",
    "title_rows",
    "wrap",
]
