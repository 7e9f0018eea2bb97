"""Some pages of a draft in words, by what they are called."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from screenplay.page import TITLE_PAGE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from screenplay.page import Layout


def pages_in_words(labels: Sequence[str], layout: Layout) -> str:
    """Some of a layout's pages by their labels, such as "pages 3, 5 and 12 to 14" where three or more follow on. One
    that is called anything but a number, 12A or 12-13, is named by itself: nobody would look for it within 12 to 14."""
    places = {page.label: page.number for page in layout.pages}
    found = [label for label in labels if label != TITLE_PAGE]
    told: list[str] = []
    for run_of, run in groupby(enumerate(found), lambda each: _run_of(each[0], each[1], places[each[1]])):
        together = [label for _, label in run]
        told += [f"{together[0]} to {together[-1]}"] if run_of and len(together) > 2 else together
    numbered = " and ".join(filter(None, [", ".join(told[:-1]), *told[-1:]]))
    pages = f"page{'' if len(found) == 1 else 's'} {numbered}" if found else ""
    return ", and ".join(filter(None, ["the title page" if TITLE_PAGE in labels else "", pages]))


def _run_of(at: int, label: str, place: int) -> tuple[int, int] | None:
    """What is the same of pages that follow on: how far their numbers, and their places in the layout, are from where
    they stand among those told. None for one that is called anything but a number."""
    return (int(label) - at, place - at) if label.isdecimal() else None
