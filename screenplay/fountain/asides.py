"""Notes and boneyards (F19, F20): where they stand in a text, and what they leave of the lines they stand in.

A boneyard is taken out first, over anything; a note is looked for in what is left, so that a note mark inside a
boneyard is none. Both are as if they had never been typed: a line wholly inside one is no line of the script, not
even a blank one.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from screenplay.model import Kind

if TYPE_CHECKING:
    from collections.abc import Iterator

# A line with at most one space in it. Between the two characters of CRLF there is none.
_BLANK_LINE = re.compile(r"(?<=[\r\n])[^\S\r\n\t]?(?=[\r\n])(?!(?<=\r)\n)")


# A note or a boneyard: where in the text it starts and ends, marks included, and whether it is a note. A plain tuple of
# numbers is nothing to Python's collector, which else looks through all of a million asides again and again.
Aside = tuple[int, int, bool]


class Asides(NamedTuple):
    """All asides of a text in order, and the offsets of the opening marks that nothing closes."""

    spans: list[Aside]
    unclosed: list[tuple[int, Kind]]


def find_asides(text: str) -> Asides:
    """The notes and boneyards of `text`, in time proportional to its length."""
    spans, unclosed = _boneyards(text)
    if "[[" in text:
        notes, open_notes = _notes(_masked(text, spans))
        spans = sorted([*notes, *_outside(spans, notes)])
        unclosed = sorted([*unclosed, *open_notes])
    return Asides(spans, unclosed)


def stretches(text: str) -> list[tuple[int, int]]:
    """Where another note would not be read as one, apart from each other and in order: within notes and boneyards, and
    behind a mark that nothing closes, up to the blank line that ends what would be its note."""
    spans, unclosed = find_asides(text)
    found = [(start, end) for start, end, _ in spans]
    masked = _masked(text, _boneyards(text)[0])
    for at, kind in unclosed:
        if kind is Kind.NOTE:
            blank = _BLANK_LINE.search(masked, at)
            found.append((at, (blank.end() if blank else len(text)) + 1))
    apart: list[tuple[int, int]] = []
    for start, end in sorted(found):
        if apart and start < apart[-1][1]:
            apart[-1] = apart[-1][0], max(end, apart[-1][1])
        else:
            apart.append((start, end))
    return apart


def _boneyards(text: str) -> tuple[list[Aside], list[tuple[int, Kind]]]:
    spans: list[Aside] = []
    start = text.find("/*")
    while start >= 0:
        close = text.find("*/", start + 2)
        if close < 0:
            return spans, [(start, Kind.BONEYARD)]
        spans.append((start, close + 2, False))
        start = text.find("/*", close + 2)
    return spans, []


def _notes(text: str) -> tuple[list[Aside], list[tuple[int, Kind]]]:
    """The notes of a text in which boneyards are masked. A blank line leaves a note unclosed."""
    notes: list[Aside] = []
    unclosed: list[tuple[int, Kind]] = []
    start, close = text.find("[["), -1
    while start >= 0:
        if close < start + 2:
            close = text.find("]]", start + 2)
            close = close if close >= 0 else len(text)
        blank = _BLANK_LINE.search(text, start, close + 1)
        if blank or close == len(text):
            unclosed.append((start, Kind.NOTE))
            after = blank.end() if blank else len(text)
        else:
            notes.append((start, close + 2, True))
            after = close + 2
        start = text.find("[[", after)
    return notes, unclosed


def _masked(text: str, spans: list[Aside]) -> str:
    """`text` with every character of the spans, line ends included, replaced by one that means nothing."""
    pieces: list[str] = []
    at = 0
    for start, end, _ in spans:
        pieces += [text[at:start], "-" * (end - start)]
        at = end
    return "".join([*pieces, text[at:]])


def _outside(boneyards: list[Aside], notes: list[Aside]) -> Iterator[Aside]:
    """The boneyards that are not inside of a note anyway."""
    following = iter(notes)
    note = next(following, None)
    for start, end, is_note in boneyards:
        while note is not None and note[1] <= start:
            note = next(following, None)
        if note is None or end <= note[0]:
            yield start, end, is_note


class LeftOver(NamedTuple):
    """What asides leave of a line: the kind of the first of them, and the pieces that are still there, each its offset
    in the line and its text, without the line's end."""

    kind: Kind
    pieces: list[tuple[int, str]]


def left_of_lines(source: tuple[str, ...], spans: list[Aside]) -> dict[int, LeftOver]:
    """What the asides leave of each line that they touch, by index. A line wholly inside of one has no pieces."""
    left: dict[int, LeftOver] = {}
    ends: dict[int, int] = {}
    index, line_start = 0, 0
    for start, end, is_note in spans:
        kind = Kind.NOTE if is_note else Kind.BONEYARD
        while line_start + len(source[index]) <= start:
            line_start += len(source[index])
            index += 1
        pieces = left.setdefault(index, LeftOver(kind, [])).pieces
        before = ends.get(index, 0)
        if before < start - line_start:
            pieces.append((before, source[index][before : start - line_start]))
        while end > line_start + len(source[index]):
            line_start += len(source[index])
            index += 1
            left[index] = LeftOver(kind, [])
        ends[index] = end - line_start
    for index, end in ends.items():
        if rest := source[index][end:].rstrip("\r\n"):
            left[index].pieces.append((end, rest))
    return left
