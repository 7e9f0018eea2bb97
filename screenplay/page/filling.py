"""Filling pages with passages: which rows stand on which page, by the trade's rules of where a page may end."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from screenplay.page.page_labels import labelled
from screenplay.page.rows import BLANK_ROW, Page, Row

if TYPE_CHECKING:
    from collections.abc import Sequence

    from screenplay.page.passages import Passage

# Of a passage with no place for a break that is too long for a page: what stands on the page of the heading above it.
LEAST_OF_UNBREAKABLE = 4


@dataclass(frozen=True, slots=True)
class RowPosition:
    """Where a row stands: `page` counts from 0, and so does `row` on it."""

    page: int
    row: int


@dataclass(slots=True)
class Filling:
    """Pages being filled, `lines` rows each. `scenes` has the place where each scene begins, in order, `locked` what a
    page, counted from 0, is called as a locked one."""

    lines: int
    pages: list[list[Row]] = field(default_factory=list)
    scenes: list[RowPosition] = field(default_factory=list)
    locked: dict[int, tuple[str, ...]] = field(default_factory=dict)

    def fill(self, passages: Sequence[Passage]) -> None:
        """Put the passages on pages, none where nothing is printed. Time is proportional to the rows."""
        least, whole = _rows_with_company(passages, self.lines)
        kept = False  # whether a heading above has made sure of the room for this passage
        for passage, least_rows, whole_rows in zip(passages, least, whole, strict=True):
            if passage.breaks_page:
                self._begin_page()
                kept = False
            if labels := passage.begins_page:
                self._begin_locked(labels)
                kept = False
            if passage.is_heading:
                kept = kept or self._keep(passage, least_rows, whole_rows)
                self._note_scene(passage)
            if passage.rows:
                self._put(passage, kept=kept and not passage.is_heading)
                kept = kept and passage.is_heading

    def finished(self, runs_on: Sequence[str] = ()) -> tuple[Page, ...]:
        """The pages. `runs_on` are the labels of locked pages on which nothing stands behind the last one that has
        text."""
        filled = [(index, tuple(rows)) for index, rows in enumerate(self.pages) if rows]
        if not self.locked and not runs_on:
            return tuple(Page(index + 1, rows) for index, rows in filled)
        labels = labelled([self.locked.get(index, ()) for index, _ in filled], runs_on)
        return tuple(Page(index + 1, rows, label) for (index, rows), label in zip(filled, labels, strict=True))

    @property
    def position(self) -> RowPosition:
        """Where the next row goes, if no blank ones come before it."""
        return RowPosition(len(self.pages) - 1, len(self.pages[-1])) if self.pages else RowPosition(0, 0)

    def _begin_page(self) -> None:
        if self.pages and self.pages[-1]:
            self.pages.append([])

    def _begin_locked(self, labels: tuple[str, ...]) -> None:
        self._begin_page()
        index = max(len(self.pages) - 1, 0)
        self.locked[index] = self.locked.get(index, ()) + labels

    def _add(self, rows: Sequence[Row]) -> None:
        if not self.pages:
            self.pages.append([])
        self.pages[-1].extend(rows)

    def _gap(self, passage: Passage) -> int:
        return passage.gap if self.pages and self.pages[-1] else 0

    def _keep(self, heading: Passage, least_rows: int, whole_rows: int) -> bool:
        """Begin a page if there is no room for the heading and what it may not be parted from; whether there is now."""
        needed = whole_rows if whole_rows <= self.lines else least_rows
        if needed > self.lines:
            return False
        if self.position.row + self._gap(heading) + needed > self.lines:
            self._begin_page()
        return True

    def _note_scene(self, heading: Passage) -> None:
        at = self.position
        row = at.row + self._gap(heading)
        begins_next = at.row > 0 and row + len(heading.rows) > self.lines
        self.scenes.append(RowPosition(at.page + 1, 0) if begins_next else RowPosition(at.page, row))

    def _put(self, passage: Passage, *, kept: bool) -> None:
        start = 0
        for stop, labels in passage.page_starts:
            if stop:
                self._put_rows(passage, start, stop, kept=kept)
                self._begin_locked(labels)
                start, kept = stop, False
        self._put_rows(passage, start, len(passage.rows), kept=kept)

    def _put_rows(self, passage: Passage, start: int, stop: int, *, kept: bool) -> None:
        rows, more = _without_blank_end(passage.rows[:stop]), _row_if_any(passage.row_more(stop))
        fits_alone = stop - start <= self.lines
        while True:
            gap = 0 if start else self._gap(passage)
            room = self.lines - self.position.row - gap
            lead = _row_if_any(passage.row_again(start))
            room -= len(lead)
            if len(rows) - start + len(more) <= room:
                self._add([*[BLANK_ROW] * gap, *lead, *rows[start:], *more])
                return
            at = self._last_break(passage, start, room, len(rows))
            if self.position.row and not kept and (at == 0 or (passage.is_pair and fits_alone)):
                self._begin_page()
                continue
            at = at or _forced_break(passage, start, room)
            part = _without_blank_end(rows[start:at])
            self._add([*[BLANK_ROW] * gap, *lead, *part, *_row_if_any(passage.row_more(at))])
            self._begin_page()
            start = _after_blank(rows, at)
            kept = False

    def _last_break(self, passage: Passage, start: int, room: int, stop: int) -> int:
        """The last row before `stop` that may begin the next page with `room` rows left for the ones before it; 0 for
        none."""
        for at in range(min(start + room, stop - 1), start, -1):
            more = len(_row_if_any(passage.row_more(at)))
            if at - start + more <= room and passage.may_break(start, at):
                return at
        return 0


def _forced_break(passage: Passage, start: int, room: int) -> int:
    """Where a passage is broken that has no place for it on a whole page: as late as it fits, but never nowhere."""
    at = start + room
    return max(at - len(_row_if_any(passage.row_more(at))), start + 1)


def _row_if_any(row: Row) -> tuple[Row, ...]:
    return (row,) if row.cells else ()


def _after_blank(rows: Sequence[Row], at: int) -> int:
    """The first row from `at` that is not blank; a passage's last row never is."""
    while not rows[at].cells:
        at += 1
    return at


def _without_blank_end(rows: Sequence[Row]) -> Sequence[Row]:
    end = len(rows)
    while end and not rows[end - 1].cells:
        end -= 1
    return rows[:end]


def _rows_with_company(passages: Sequence[Passage], lines: int) -> tuple[list[int], list[int]]:
    """For each passage, how many rows at least stand on one page with it, itself and a gap between them counted.

    A heading takes what follows it along, as far as that must not be parted from it and no locked page begins there.
    There are two counts: with the fewest rows of what follows, and with as many as are better kept together. Counts
    over the paper's lines only say that much.
    """
    least, whole = [0] * len(passages), [0] * len(passages)
    following: int | None = None
    for index in range(len(passages) - 1, -1, -1):
        passage = passages[index]
        if not passage.is_heading:
            least[index], whole[index] = _heads(passage, lines)
        elif following is None:
            least[index] = whole[index] = len(passage.rows)
        else:
            with_gap = len(passage.rows) + passages[following].gap
            least[index] = min(with_gap + least[following], lines + 1)
            whole[index] = min(with_gap + whole[following], lines + 1)
        if passage.begins_page or (passage.breaks_page and not passage.rows):
            following = None
        elif passage.rows:
            following = index
    return least, whole


def _heads(passage: Passage, lines: int) -> tuple[int, int]:
    """The fewest rows of a passage that may stand on a page before a break, and the fewest that stand there well."""
    rows = next((row for row, _ in passage.page_starts if row), len(passage.rows))
    for at in range(1, min(lines, rows - 1) + 1):
        if passage.may_break(0, at):
            head = min(at + len(_row_if_any(passage.row_more(at))), rows)
            return head, rows if passage.is_pair else head
    return min(rows, LEAST_OF_UNBREAKABLE), rows
