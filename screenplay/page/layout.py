"""A script laid out as pages, by the trade's columns and page breaks, and its length in pages and eighths of a page."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from screenplay.page.filling import Filling
from screenplay.page.page_starts import PageStarts
from screenplay.page.paper import USUAL_SETTING, PageSetting, PaperSize
from screenplay.page.passages import passages
from screenplay.page.rows import BLANK_ROW, Cell, Layout, Page, Row
from screenplay.page.title_page import title_rows
from screenplay.page.transitions import with_transitions

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from screenplay.model import Screenplay

__all__ = ["BLANK_ROW", "Cell", "Layout", "Page", "PageSetting", "PaperSize", "Row", "in_pages", "paginate"]

EIGHTHS = 8


def paginate(screenplay: Screenplay, setting: PageSetting = USUAL_SETTING) -> Layout:
    """Lay a script out on paper by a page setting, in time proportional to its length.

    There is one blank line between elements, and one or two, by the setting, before a scene heading; none at the top of
    a page. A heading stands on one page with at least two lines of what follows. A speech or an action breaks with two
    lines or more on each side, a speech with (MORE) under it and its cue again with (CONT'D) on the next page; two
    speeches side by side break only where they do not fit on a page. A transition stands on a page with the end of
    what comes before it, two lines or all of it. A page break the writer asks for begins a new page, unless the page is
    new already. What has no such place on a whole page (a heading or a parenthetical as long
    as that) is broken where the page ends. A script that prints nothing has no pages.

    Where the setting has the scene numbers of a locked script, each scene has its number from there, and OMITTED stands
    on a row of its own, with the number, for each scene that was cut. It takes no length from another: the lengths are
    those that the same text has without.

    On locked pages a scene is as long as its rows and the blank ones before the next heading, whether one follows or
    not, as they would stand on one page without an end. What a locked page leaves blank is nobody's, nor is a cue said
    again: so a scene that stays as it is keeps its length, whatever comes or goes elsewhere.
    """
    paper = setting.paper
    filling, pages = _filled(screenplay, setting)
    text_alone = replace(setting, scene_numbers=(), locked_pages=())
    if setting.locked_pages:
        lead_in, *scenes = _lengths_without_pages(screenplay, text_alone)
    elif any(scene.ordinal is None for scene in setting.scene_numbers):
        lead_in, *scenes = _lengths(*_filled(screenplay, text_alone))
    else:
        lead_in, *scenes = _lengths(filling, pages)
    first, last = _pages_of_lines(pages)
    least_lead_in = 1 if lead_in and not scenes else 0
    return Layout(
        setting=setting,
        pages=pages,
        title_page=title_rows(screenplay, paper),
        page_of=first,
        last_page_of=last,
        scene_eighths=tuple(max(_nearest_eighth(rows, paper.lines), 1) for rows in scenes),
        lead_in_eighths=max(_nearest_eighth(lead_in, paper.lines), least_lead_in),
    )


def in_pages(eighths: int) -> str:
    """A length in eighths of a page as the trade writes it: 19 is `2 3/8`, 8 is `1`, 3 is `3/8`, none is `0`."""
    pages, rest = divmod(eighths, EIGHTHS)
    parts = [str(pages)] if pages or not rest else []
    return " ".join([*parts, f"{rest}/{EIGHTHS}"] if rest else parts)


def _pages_of_lines(pages: Sequence[Page]) -> tuple[dict[int, int], dict[int, int]]:
    """The pages on which each printed source line first and last stands."""
    first: dict[int, int] = {}
    last: dict[int, int] = {}
    for page in pages:
        for line in _lines_on(page):
            first.setdefault(line, page.number)
            last[line] = page.number
    return first, last


def _lines_on(page: Page) -> Iterator[int]:
    return (cell.line for row in page.rows for cell in row.cells if cell.line is not None)


def _filled(screenplay: Screenplay, setting: PageSetting) -> tuple[Filling, tuple[Page, ...]]:
    filling, starts = Filling(setting.paper.lines), PageStarts(setting.locked_pages)
    filling.fill(list(with_transitions(starts.marked(passages(screenplay.elements, setting)))))
    return filling, filling.finished(starts.left)


def _lengths(filling: Filling, pages: Sequence[Page]) -> list[int]:
    """How many rows there are before the first scene, and then in each, on the pages set end to end."""
    lines = filling.lines
    end = (len(pages) - 1) * lines + len(pages[-1].rows) if pages else 0
    marks = [0, *(min(place.page * lines + place.row, end) for place in filling.scenes), end]
    return [after - before for before, after in pairwise(marks)]


def _lengths_without_pages(screenplay: Screenplay, setting: PageSetting) -> list[int]:
    """How many rows there are before the first scene, and then in each, on one page that has no end."""
    whole = [replace(passage, breaks_page=False) for passage in passages(screenplay.elements, setting)]
    filling = Filling(sum(passage.gap + len(passage.rows) for passage in whole) + 1)
    filling.fill(whole)
    lead_in, *scenes = _lengths(filling, filling.finished())
    if scenes:
        scenes[-1] += setting.blank_lines_before_heading
    return [lead_in, *scenes]


def _nearest_eighth(rows: int, lines: int) -> int:
    """So many rows of a page's lines as eighths of a page, to the nearest; a half goes up."""
    return (2 * EIGHTHS * rows + lines) // (2 * lines)
