"""Transitions kept on the page of what stands before them, so that none begins a page or stands alone on the last."""

from __future__ import annotations

from dataclasses import replace
from itertools import chain
from typing import TYPE_CHECKING

from screenplay.page.rows import BLANK_ROW

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from screenplay.page.passages import Passage
    from screenplay.page.rows import Row


def with_transitions(passages: Iterable[Passage]) -> Iterator[Passage]:
    """The passages, each with the transitions right after it as its tail, a blank line before each.

    A heading keeps what follows it anyway, and after a page break the writer has asked for, a transition begins the
    page. Where the passage breaks, two lines of it go on to the next page with the transition, as they do without one.
    """
    before: Passage | None = None
    tail: list[Passage] = []
    for passage in passages:
        if passage.is_transition and not passage.page_starts and before and before.rows and not before.is_heading:
            tail.append(passage)
            continue
        if before:
            yield _with_tail(before, tail)
        before, tail = passage, []
    if before:
        yield _with_tail(before, tail)


def _with_tail(passage: Passage, transitions: Iterable[Passage]) -> Passage:
    rows: list[Row] = list(chain.from_iterable((*[BLANK_ROW] * one.gap, *one.rows) for one in transitions))
    return replace(passage, rows=(*passage.rows, *rows), tail=len(rows)) if rows else passage
