"""Where in a draft the words are that an annotation selects."""

from __future__ import annotations

from bisect import bisect_right
from itertools import takewhile
from typing import TYPE_CHECKING

from review.notes.lines import source_lines
from screenplay import Span

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from review.exchange.read_annotations import Selected
    from review.exchange.selectors import SelectedText

MOST_PLACES = 500  # of the same words that are looked at
NOWHERE = "its words stand nowhere in {draft}"
SEVERAL = "its words stand in several places of {draft}, and nothing says which"


class NoPlace(ValueError):
    """Raised where words are nowhere in a text, or in several places that are alike, with the sentence for it."""


def place(text: SelectedText, selected: Selected, *, is_source: bool) -> Span:
    """The span that is selected in a draft's text; `is_source` says that it was selected in this very draft.

    There positions count, as long as the words stand there; in any other text the words are looked for, by what is
    before and behind them. Raises NoPlace.
    """
    start, end = selected.start, selected.end
    if is_source and start is not None and end is not None and end <= len(text.text):
        words = text.text[start:end]
        if selected.exact is None or _same(words, selected.exact):
            return _span(text, start, end)
    if not selected.exact or not selected.exact.strip():
        raise NoPlace(NOWHERE)
    return _span(text, *_found(text.text, selected))


def _found(text: str, selected: Selected) -> tuple[int, int]:
    exact = selected.exact or ""
    ranked = sorted(
        ((_likeness(text, at, at + length, selected), -at, length) for at, length in _everywhere(text, exact)),
        reverse=True,
    )
    if not ranked:
        raise NoPlace(NOWHERE)
    best = ranked[0][0]
    alike = [(-at, length) for likeness, at, length in ranked if likeness == best]
    if len(alike) > 1 and selected.start is None:
        raise NoPlace(SEVERAL)
    at, length = min(alike, key=lambda one: abs(one[0] - (selected.start or 0)))
    return at, at + length


def _everywhere(text: str, exact: str) -> Iterator[tuple[int, int]]:
    """Where the words stand, with how many code points they have there: line ends may be others."""
    for words in dict.fromkeys((exact, *(_with_ends(exact, end) for end in ("\n", "\r\n", "\r")))):
        at, met = text.find(words), 0
        while at >= 0 and met < MOST_PLACES:
            yield at, len(words)
            met += 1
            at = text.find(words, at + 1)
        if met:
            return


def _likeness(text: str, start: int, end: int, selected: Selected) -> int:
    """How many code points before and behind are as they were where the words were selected."""
    prefix, suffix = _plain(selected.prefix), _plain(selected.suffix)
    before = _plain(text[max(start - 2 * len(prefix), 0) : start])
    behind = _plain(text[end : end + 2 * len(suffix)])
    return _alike(reversed(prefix), reversed(before)) + _alike(suffix, behind)


def _alike(some: Iterable[str], others: Iterable[str]) -> int:
    """How many code points are the same from the beginning on."""
    return sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(some, others, strict=False)))


def _span(text: SelectedText, start: int, end: int) -> Span:
    """Code points as lines and characters in them; what is past a line's last character is that."""
    first, first_char = _line_of(text, start)
    last, last_char = _line_of(text, end)
    if last > first and last_char == 0:  # up to the end of the line before
        last, last_char = last - 1, end
    lines = source_lines(text.text)
    return Span(first, min(first_char, len(lines[first - 1])), last, min(last_char, len(lines[last - 1])))


def _line_of(text: SelectedText, at: int) -> tuple[int, int]:
    line = min(bisect_right(text.starts, at), len(source_lines(text.text)))
    return line, at - text.starts[line - 1]


def _same(words: str, exact: str) -> bool:
    return words == exact or _plain(words) == _plain(exact)


def _plain(text: str) -> str:
    return _with_ends(text, "\n")


def _with_ends(text: str, end: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n").replace("\n", end)
