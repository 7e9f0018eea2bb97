"""Where the pages of a locked script begin among what it prints."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from screenplay.page.page_labels import LockedPage
    from screenplay.page.passages import Passage
    from screenplay.page.rows import Row


class PageStarts:
    """Finds the rows that locked pages begin with; `left` are the labels of those that none did so far."""

    def __init__(self, locked: Sequence[LockedPage]) -> None:
        self.locked = locked
        self.next = 0

    @property
    def left(self) -> list[str]:
        return [page.label for page in self.locked[self.next :]]

    def marked(self, passages: Iterable[Passage]) -> Iterator[Passage]:
        """The passages, each with the rows in it at which a page begins."""
        for passage in passages:
            found: dict[int, tuple[str, ...]] = {}
            for at, row in enumerate(passage.rows) if self.next < len(self.locked) else ():
                if labels := self._begun_by(row):
                    place = passage.start_of_page(at)
                    found[place] = found.get(place, ()) + labels
            yield replace(passage, page_starts=tuple(found.items())) if found else passage

    def _begun_by(self, row: Row) -> tuple[str, ...]:
        """The labels of the pages that a row begins; more than one run together."""
        upto = self.next
        for at in range(self.next, len(self.locked)):
            page = self.locked[at]
            if _begins(row, page):
                upto = at + 1
            elif page.line is not None:
                break
        labels = tuple(page.label for page in self.locked[self.next : upto])
        self.next = upto
        return labels


def _begins(row: Row, page: LockedPage) -> bool:
    if page.line is None:
        return bool(page.omitted) and row.added == "omitted" and row.number == page.omitted
    lines = [cell for cell in row.cells if cell.line is not None]
    here = any(cell.line == page.line and cell.runs[0].start >= page.offset for cell in lines)
    return here or (bool(lines) and (lines[0].line or 0) > page.line)
