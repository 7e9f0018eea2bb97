"""Locking a script's pages, and which pages are swapped in a printed copy for those of another layout."""

from __future__ import annotations

from collections import defaultdict
from itertools import takewhile
from typing import TYPE_CHECKING, NamedTuple

from screenplay.page.page_labels import LockedPage

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Sequence

    from screenplay.page.rows import Layout, Page, Row


TITLE_PAGE = ""  # the title page is called nothing


class PageSwap(NamedTuple):
    """The pages of an old copy that come out, by their labels, and those of the new one that go in, in order. A page
    that only changed is in both; TITLE_PAGE is the title page."""

    out: tuple[str, ...]
    into: tuple[str, ...]


def beginnings(layout: Layout) -> tuple[LockedPage, ...]:
    """What each page begins with: laid out with these, the same text has the same pages.

    Given to the page setting of a later draft, as `screenplay.next_draft.carry_pages` brings them there, they keep each
    page beginning where it began. A cue said again at the top of a page is no beginning, the words under it are.
    """
    met: set[int] = set()
    locked: list[LockedPage] = []
    for page in layout.pages:
        locked.append(_beginning(page, met))
        met.update(cell.line for row in page.rows for cell in row.cells if cell.line is not None)
    return tuple(locked)


def page_swap(old: Layout, new: Layout) -> PageSwap:
    """Which pages to swap so that a printed copy of `old` becomes one of `new`: those of which anything printed differs
    but what stands at their head.

    It goes by what pages are called, so it holds for pages that are not locked too, of which most change after the
    first that does.
    """
    before, after = _printed_pages(old), _printed_pages(new)
    changed = {label for label in before.keys() & after.keys() if before[label] != after[label]}
    out = [label for label in before if label in changed or label not in after]
    into = [label for label in after if label in changed or label not in before]
    return PageSwap(tuple(out), tuple(into))


def swap_from_first_change(old: Layout, new: Layout) -> PageSwap:
    """The same for pages that are not locked: all of them from the first that changes on, which is quicker said, and
    done, than which of them happen to be as they were. The title page is swapped by itself."""
    before, after = _printed_pages(old), _printed_pages(new)
    titles = [pages.pop(TITLE_PAGE, None) for pages in (before, after)]
    same = sum(1 for _ in takewhile(lambda both: both[0] == both[1], zip(before.items(), after.items(), strict=False)))
    title_out, title_into = ([TITLE_PAGE] if title and titles[0] != titles[1] else [] for title in titles)
    return PageSwap((*title_out, *list(before)[same:]), (*title_into, *list(after)[same:]))


def pages_with(locked: Iterable[LockedPage], layout: Layout) -> list[int]:
    """The pages of another layout of the same text, by number, on which stands what each locked page begins with. One
    that has nothing to begin with is where the page before it is."""
    starts: dict[int, list[tuple[int, int]]] = defaultdict(list)  # of each line: (offset, page)
    omitted: dict[str, int] = {}
    for page in layout.pages:
        for row in page.rows:
            if row.added == "omitted" and row.number is not None:
                omitted[row.number] = page.number
            for cell in row.cells:
                if cell.line is not None:
                    starts[cell.line].append((cell.runs[0].start, page.number))
    found = [1]
    for begins in locked:
        here = starts.get(begins.line or 0, [])
        before = [number for offset, number in here if offset <= begins.offset] or [number for _, number in here[:1]]
        found.append(max(before) if before else omitted.get(begins.omitted, found[-1]))
    return found[1:]


def _beginning(page: Page, met: Collection[int]) -> LockedPage:
    for row in page.rows:
        if row.added == "omitted" and row.number is not None:
            return LockedPage(page.label, omitted=row.number)
        for cell in row.cells:
            if cell.line is not None:
                return LockedPage(page.label, cell.line, cell.runs[0].start if cell.line in met else 0)
    return LockedPage(page.label)


def _printed_pages(layout: Layout) -> dict[str, list[object]]:
    """All that each page prints under its head, wherever it comes from, by what it is called."""
    title = {TITLE_PAGE: _printed(layout.title_page)} if layout.title_page else {}
    return title | {page.label: _printed(page.rows) for page in layout.pages}


def _printed(rows: Sequence[Row]) -> list[object]:
    return [(row.number, tuple(_cells(row))) for row in rows]


def _cells(row: Row) -> Iterator[tuple[object, ...]]:
    for cell in row.cells:
        styles = [(run.text, run.bold, run.italic, run.underline) for run in cell.runs]
        yield cell.column, tuple(styles)
