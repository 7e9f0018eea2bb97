"""Some pages of a draft in words, by what they are called."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from screenplay.page import TITLE_PAGE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from screenplay.page import Layout


def pages_in_words(labels: Sequence[str], layout: Layout) -> str:
    """Some of a layout's pages by their labels, such as "pages 3, 5 and 12 to 14" where three or more follow on."""
    places = {page.label: page.number for page in layout.pages}
    found = [label for label in labels if label != TITLE_PAGE]
    told: list[str] = []
    for _, run in groupby(enumerate(found), lambda each: places[each[1]] - each[0]):
        together = [label for _, label in run]
        told += [f"{together[0]} to {together[-1]}"] if len(together) > 2 else together
    numbered = " and ".join(filter(None, [", ".join(told[:-1]), *told[-1:]]))
    pages = f"page{'' if len(found) == 1 else 's'} {numbered}" if found else ""
    return ", and ".join(filter(None, ["the title page" if TITLE_PAGE in labels else "", pages]))
