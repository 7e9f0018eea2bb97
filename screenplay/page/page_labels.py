"""What the pages of a locked script are called: the numbers they have kept, and those of pages that were added since.

A page added after 12 is 12A, the next 12B (common practice in the trade). One added between 12 and 12A is A12A, and one
before page 1 is A1, as scenes are numbered (common practice, from memory; houses differ). Where all that stood on a
page was cut, it runs together with the page that begins there now, as 12-13: whoever swaps pages sees from its number
which two come out for it, and no blank sheet has to be explained (common practice, from memory; some houses keep an
empty page instead).
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING, NamedTuple

from screenplay.page.scene_numbers import number_between, same_number

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

TOGETHER = "-"


class LockedPage(NamedTuple):
    """What a page is called and what it begins with: the text from an offset in a source line on, or else the line that
    says OMITTED for the scene of the number `omitted`. With neither it has nothing to begin with any more, and runs
    together with the page before it."""

    label: str
    line: int | None = None
    offset: int = 0
    omitted: str = ""


def breaks_in_lines(locked: Iterable[LockedPage]) -> Mapping[int, Sequence[int]]:
    """The offsets in source lines at which a page begins within a line, rising."""
    found: dict[int, list[int]] = defaultdict(list)
    for page in locked:
        if page.line is not None and page.offset:
            found[page.line].append(page.offset)
    return {line: sorted(offsets) for line, offsets in found.items()}


def run_together(labels: Sequence[str]) -> str:
    """What the pages are called as one: 12-13 for 12 and 13, 12-14 for 12-13 and 14."""
    first, last = first_of(labels[0]), last_of(labels[-1])
    return first if first == last else f"{first}{TOGETHER}{last}"


def first_of(label: str) -> str:
    """The first of the pages that run together under a label."""
    return label.partition(TOGETHER)[0]


def last_of(label: str) -> str:
    """The last of the pages that run together under a label."""
    return label.rpartition(TOGETHER)[2]


def labelled(locked: Sequence[Sequence[str]], runs_on: Sequence[str] = ()) -> list[str]:
    """What pages are called of which some are `locked`, each under one label or several that run together; those under
    none were added. `runs_on` are the labels that run together with the last of them."""
    known = [run_together(labels) if labels else None for labels in locked]
    taken = {same_number(label) for labels in (*locked, runs_on) for label in labels}
    following: list[str | None] = [None]
    for label in reversed(known):
        following.append(label or following[-1])
    following.reverse()
    found: list[str] = []
    for label, after in zip(known, following[1:], strict=True):
        before = found[-1] if found else None
        found.append(label or _label_between(before, after, taken))
        taken.add(same_number(found[-1]))
    if found and runs_on:
        found[-1] = run_together([found[-1], *runs_on])
    return found


def _label_between(before: str | None, after: str | None, taken: set[str]) -> str:
    last, first = (last_of(before) if before else None), (first_of(after) if after else None)
    return number_between(last, first, taken)
