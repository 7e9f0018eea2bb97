"""What is set across a PDF's pages and is no part of the script: whose copy it is, or what may not be done with it.

It is tilted, light, much larger than the script, or stands at one and the same place on page after page.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections import Counter, defaultdict
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

USUAL_SIZE = 12.0  # points
_LARGER = 1.5 * USUAL_SIZE
_A_LITTLE_LARGER = 1.15 * USUAL_SIZE
_SHARE = 0.6  # of the pages
_LEAST_PAGES = 5  # on which a word of the script's own size stands at one place by no chance
_LEAST_PAGES_LARGER = 2
_FULL_PAGE = 60  # words; a page with a title on it has fewer
_LEAST_APART = 3  # one in so many of the times that it stands at its place
_LEAST_SPACE, _MOST_SPACE = 1.0, 10.0  # points between two words of a line
_GOES_ON = re.compile(r"(?i:.*(?:more|cont(?:inued|['’]?d|\.)).*)")


WordAtPoint = tuple[str, int, int]  # a word and where it stands, to a point


class PdfWord(NamedTuple):
    """A word on a page: its edges and baseline in points from the paper's lower left corner, its type's size, and its
    `style`, `lead` and `tail` as in `typed_pages.TypedWord`."""

    text: str
    left: float
    right: float
    baseline: float
    size: float
    is_tilted: bool
    is_light: bool
    style: int = 0
    lead: int = 0
    tail: int = 0

    @property
    def at_point(self) -> WordAtPoint:
        """The word and where it stands, to a point."""
        return self.text, round(self.left), round(self.baseline)


def without_watermarks(pages: Sequence[Sequence[PdfWord]]) -> list[list[PdfWord]]:
    """The pages, set in type of the usual size, with the script's words alone, headers and page numbers among them."""
    words = [word for page in pages for word in page]
    mostly_light = sum(word.is_light for word in words) * 2 > len(words)
    upright = [[word for word in page if not word.is_tilted and (mostly_light or not word.is_light)] for page in pages]
    repeated = _repeated(upright)
    own = [[word for word in page if word.at_point not in repeated] for page in upright] if repeated else upright
    return [
        page if index == 0 and _has_a_title(page) else [word for word in page if word.size <= _LARGER]
        for index, page in enumerate(own)
    ]


def _has_a_title(page: Sequence[PdfWord]) -> bool:
    """Whether what is large on a first page is its title: there are few other words, or none above it."""
    large = [word.baseline for word in page if word.size > _LARGER]
    others = [word.baseline for word in page if word.size <= _LARGER]
    return not large or len(others) < _FULL_PAGE or max(large) >= max(others)


def _repeated(pages: Sequence[Sequence[PdfWord]]) -> set[WordAtPoint]:
    """The words that stand at one place on most pages, in no line of the script there, nor as headers or footers."""
    places = Counter(place for page in pages for place in {word.at_point for word in page if _may_be_repeated(word)})
    large = {word.at_point for page in pages for word in page if word.size > _A_LITTLE_LARGER}
    share = _SHARE * len(pages)
    often = {
        place
        for place, count in places.items()
        if count >= max(share, _LEAST_PAGES_LARGER if place in large else _LEAST_PAGES)
    }
    if not often:
        return often
    across = Counter(place for page in pages for place in _across(page, often))
    return {place for place in often if across[place] * _LEAST_APART > places[place]}


def _may_be_repeated(word: PdfWord) -> bool:
    return any(map(str.isalnum, word.text)) and not _GOES_ON.fullmatch(word.text)


def _across(page: Sequence[PdfWord], often: set[WordAtPoint]) -> set[WordAtPoint]:
    """Those of the places with words of the page itself above and below them, and none right beside them."""
    own = [word for word in page if word.at_point not in often]
    if not own:
        return set()
    lowest, highest = min(word.baseline for word in own), max(word.baseline for word in own)
    starts, ends = _by_baseline(own, lambda word: word.left), _by_baseline(own, lambda word: word.right)
    return {
        word.at_point
        for word in page
        if word.at_point in often
        and lowest < word.baseline < highest
        and not _has_between(starts[round(word.baseline)], word.right + _LEAST_SPACE, word.right + _MOST_SPACE)
        and not _has_between(ends[round(word.baseline)], word.left - _MOST_SPACE, word.left - _LEAST_SPACE)
    }


def _by_baseline(words: Sequence[PdfWord], edge: Callable[[PdfWord], float]) -> dict[int, list[float]]:
    """An edge of the words, by the whole points of their baselines, from left to right."""
    edges: dict[int, list[float]] = defaultdict(list)
    for word in sorted(words, key=edge):
        edges[round(word.baseline)].append(edge(word))
    return edges


def _has_between(ordered: Sequence[float], low: float, high: float) -> bool:
    at = bisect_left(ordered, low)
    return at < len(ordered) and ordered[at] <= high
