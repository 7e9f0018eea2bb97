"""A text with notes woven in as Fountain has them (F19): each on lines of its own, so that the text's own lines stay as
they are, and so do the pages."""

from __future__ import annotations

import re
from bisect import bisect_right
from itertools import accumulate
from typing import TYPE_CHECKING

from screenplay.fountain.asides import stretches
from screenplay.fountain.source_lines import BYTE_ORDER_MARK, split_lines

if TYPE_CHECKING:
    from collections.abc import Iterable

# Marks that would end a note, begin another, or begin or end a boneyard: parted, they mean nothing.
_MARKS = re.compile(r"\[(?=\[)|\](?=\])|/(?=\*)|\*(?=/)")
_BLANK_WITHIN = "  "  # a blank line within a note has two spaces


def as_note(words: str, line_end: str = "\n") -> str:
    """Words as a note. Marks in them that would end it are parted by a space."""
    parted = _MARKS.sub(lambda mark: f"{mark[0]} ", words)
    lines = (line.strip() for line in re.split(r"\r\n|\r|\n", parted.strip()))
    return f"[[ {line_end.join(line or _BLANK_WITHIN for line in lines)} ]]"


def with_notes(text: str, notes: Iterable[tuple[int, str]]) -> str:
    """The text with each note's words behind the line of that number, counted from 1, in the order in which they come;
    one whose line lies within another note or a boneyard stands behind that. A note of line 0 stands at the end."""
    lines = split_lines(text)
    ends = [0, *accumulate(map(len, lines))]
    line_end = _usual_end(lines)
    free = _FreePlaces(text, ends)
    told: dict[int, list[str]] = {}
    for line, words in notes:
        told.setdefault(free.behind(line or len(lines)), []).append(as_note(words, line_end))
    pieces: list[str] = []
    at = 0
    for place in sorted(told):
        pieces.append(text[at:place])
        is_whole = place == 0 or text[place - 1] in "\r\n" or place == _mark_of(text)
        pieces += [f"{note}{line_end}" if is_whole else f"{line_end}{note}" for note in told[place]]
        at = place
    return "".join([*pieces, text[at:]])


def _usual_end(lines: tuple[str, ...]) -> str:
    first = lines[0] if lines else ""
    return first[len(first.rstrip("\r\n")) :] or "\n"


def _mark_of(text: str) -> int:
    return len(BYTE_ORDER_MARK) if text.startswith(BYTE_ORDER_MARK) else 0


class _FreePlaces:
    """Where in a text notes may stand: at the beginnings of lines, outside of every note and boneyard, and not where a
    note that nothing closes would be closed by them."""

    def __init__(self, text: str, ends: list[int]) -> None:
        self._ends = ends
        self._first = _mark_of(text)
        self._taken = stretches(text)
        self._starts = [start for start, _ in self._taken]

    def behind(self, line: int) -> int:
        """The offset of the first free place behind a line; of the last one before it where there is none."""
        at = min(max(line, 0), len(self._ends) - 1)
        while at < len(self._ends):
            beyond = self._end_of_taken(self._ends[at])
            if beyond is None:
                return self._ends[at]
            at = max(at + 1, bisect_right(self._ends, beyond - 1))
        at = len(self._ends) - 1
        while at > 0 and self._end_of_taken(self._ends[at]) is not None:
            at -= 1
        return max(self._ends[at], self._first)

    def _end_of_taken(self, place: int) -> int | None:
        """Where the aside ends that a place lies in; None where it lies in none."""
        found = bisect_right(self._starts, place - 1) - 1
        if found < 0:
            return None
        _, end = self._taken[found]
        return end if place < end else None
