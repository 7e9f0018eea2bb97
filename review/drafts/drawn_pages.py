"""A draft's pages as HTML. They follow from its text and its page setting, so they are made once and kept by both.

They are kept in files, beyond the process, and the latest in the process's own memory.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from django.utils.safestring import SafeString, mark_safe

from review.drafts.scripts import laid_out
from review.kept import kept
from review.kept_beyond import kept_beyond
from screenplay.printing import rows_as_html

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from review.drafts.models import Draft, PagesKey
    from screenplay import LaidOut
    from screenplay.page import Row
    from screenplay.script import Scene

BYTES_A_LINE, BYTES_A_SCENE = 150, 1000  # of what is kept beside the HTML, as measured


@dataclass(frozen=True, slots=True)
class DrawnPage:
    """One page, ready to be shown. `label` is what it is called, "" for the title page. `first_line` and
    `last_line` are the first and the last source lines that begin on it, None where none does."""

    label: str
    html: str
    first_line: int | None
    last_line: int | None

    @property
    def name(self) -> str:
        return f"Page {self.label}" if self.label else "Title page"


@dataclass(frozen=True)
class DrawnPages:
    """All pages of a draft, the title page first, its scenes, and who speaks, most words first. `page_of` says on
    which page, counted from 0, a printed line begins; `printed` are those lines in order."""

    pages: tuple[DrawnPage, ...]
    page_of: Mapping[int, int]
    scenes: tuple[Scene, ...]
    characters: tuple[str, ...]

    @cached_property
    def printed(self) -> tuple[int, ...]:
        return tuple(sorted(self.page_of))

    @property
    def page_count(self) -> int:
        """How many pages it has, the title page not counted."""
        return sum(bool(page.label) for page in self.pages)

    def first_printed(self, first: int, last: int) -> int | None:
        """The first printed line of these; where none is, the nearest before them, else the script's first."""
        at = bisect_left(self.printed, first)
        if at < len(self.printed) and self.printed[at] <= last:
            return self.printed[at]
        return self.printed[max(bisect_right(self.printed, first) - 1, 0)] if self.printed else None

    def printed_behind(self, line: int) -> int | None:
        """The first printed line behind one; None behind the last."""
        at = bisect_right(self.printed, line)
        return self.printed[at] if at < len(self.printed) else None

    def labelled(self, label: str) -> int | None:
        """The place of the page with this at its head, None where no page has it."""
        return next((at for at, page in enumerate(self.pages) if page.label == label), None)


def draw_pages(draft: Draft) -> DrawnPages:
    """The draft's pages. Laying them out and rendering them happens once for a text and a page setting."""
    return _draw_pages(draft.pages_key)


def _weigh(drawn: DrawnPages) -> int:
    html = sum(len(page.html) for page in drawn.pages)
    return html + BYTES_A_LINE * len(drawn.page_of) + BYTES_A_SCENE * len(drawn.scenes)


@kept(_weigh)
@kept_beyond
def _draw_pages(pages: PagesKey) -> DrawnPages:
    return draw(laid_out(pages.draft))


def draw(script: LaidOut) -> DrawnPages:
    """The pages of a script."""
    layout = script.layout
    labelled: list[tuple[str, Sequence[Row]]] = [(page.label, page.rows) for page in layout.pages]
    if layout.title_page:
        labelled.insert(0, ("", layout.title_page))
    counted = {scene.first_line: scene.ordinal for scene in script.scenes}
    drawn: list[DrawnPage] = []
    page_of: dict[int, int] = {}
    for at, (label, rows) in enumerate(labelled):
        here = sorted({cell.line for row in rows for cell in row.cells if cell.line is not None} - page_of.keys())
        html = rows_as_html(rows, page_of, counted=counted)
        page_of.update(dict.fromkeys(here, at))
        drawn.append(DrawnPage(label, html, here[0] if here else None, here[-1] if here else None))
    return DrawnPages(tuple(drawn), page_of, script.scenes, tuple(one.name for one in script.characters))


def draw_rows(rows: Sequence[Row]) -> SafeString:
    """Rows of a page as HTML, by themselves: without the lines that they come from."""
    return mark_safe(rows_as_html(rows, with_lines=False))  # noqa: S308 - every word in it is escaped
