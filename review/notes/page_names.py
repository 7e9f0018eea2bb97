"""What people call the place of some lines in a script: its page, as it is laid out here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay import Kind

if TYPE_CHECKING:
    from screenplay import LaidOut
    from screenplay.page import Layout

TITLE_PAGE = "Title page"


def page_name(pages: LaidOut, first_line: int, last_line: int) -> str:
    """ "Page 3", "Pages 12 to 12A" or "Title page".

    Lines count from 1 in the source. Those that do not print stand where the printed line before them does.
    """
    first, last = _first_page(pages.layout, first_line, last_line), _last_page(pages.layout, last_line)
    if first is None or last is None:
        return TITLE_PAGE if pages.script.kinds[first_line - 1 : first_line] == (Kind.TITLE_PAGE,) else "Page 1"
    begins, ends = pages.layout.label_of(first), pages.layout.label_of(last)
    return f"Page {begins}" if first == last else f"Pages {begins} to {ends}"


def on_page(name: str) -> str:
    """The name of a page as it stands within a sentence, after "on"."""
    return "the title page" if name == TITLE_PAGE else name.replace("Page", "page", 1)


def _first_page(layout: Layout, first_line: int, last_line: int) -> int | None:
    page_of = layout.page_of
    lines = (*range(first_line, last_line + 1), *range(first_line - 1, 0, -1))
    return next((page_of[line] for line in lines if line in page_of), None)


def _last_page(layout: Layout, last_line: int) -> int | None:
    page_of = layout.last_page_of
    return next((page_of[line] for line in range(last_line, 0, -1) if line in page_of), None)
