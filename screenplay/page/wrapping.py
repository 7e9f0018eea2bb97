"""How wide text is in a fixed-width type, and where a line of it is broken to fit a measure.

Wide characters take two columns and combining ones none, by their East Asian width (UAX 11) and general category in
Python's Unicode tables; ambiguous ones take one, as in text that is not East Asian. A line is broken at spaces, after
a dash within a word, between East Asian characters unless one of them must not stand at a row's edge, and anywhere in
a word that is wider than the measure.
"""

from __future__ import annotations

import re
import unicodedata
from functools import cache
from typing import TYPE_CHECKING

from screenplay.model import Run

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

TAB_COLUMNS = 4

_DASHES = "-–—"
_NO_BREAK_SPACES = "\u00a0\u2007\u202f"
_ZERO_WIDTH_JOINER = "\u200d"
# East Asian signs that belong to what stands before them, though Unicode does not call them closing punctuation.
_NEVER_FIRST = frozenset("、。，．：；！？・ーぁぃぅぇぉっゃゅょゎゕゖァィゥェォッャュョヮヵヶ々〻…‥!,.:;?%")
# Latin, Greek, Cyrillic and common punctuation: one column each, and nothing but a space to break at except a dash.
_ONE_COLUMN_EACH = re.compile(
    r"[ -~\u00a0-\u00ac\u00ae-\u02ff\u0370-\u0482\u048a-\u058f\u2010-\u2027\u2030-\u205e]*"
).fullmatch


@cache
def columns_of(character: str) -> int:
    """How many columns a character takes: none, one or two, and four for a tab."""
    if character == "\t":
        return TAB_COLUMNS
    if unicodedata.category(character) in {"Mn", "Me", "Cf"} or "\u1160" <= character <= "\u11ff":
        return 0
    return 2 if unicodedata.east_asian_width(character) in {"W", "F"} else 1


def columns(text: str) -> int:
    """How many columns `text` takes; a tab takes four."""
    if text.isascii():
        return len(text) + text.count("\t") * (TAB_COLUMNS - 1)
    if _ONE_COLUMN_EACH(text):
        return len(text)
    return sum(map(columns_of, text))


def wrap(runs: Sequence[Run], width: int, *, keep_indent: bool = False) -> list[tuple[Run, ...]]:
    """The runs of one source line as rows no wider than `width` columns; none where there is nothing but space.

    Spaces at the ends of rows are dropped; those at the start of the line are kept on request, if text has room
    beside them. Time is proportional to the length of the text.
    """
    text = runs[0].text if len(runs) == 1 else "".join(run.text for run in runs)
    if not text or text.isspace():
        return []
    if len(text) <= width and not text[-1].isspace() and (keep_indent or not text[0].isspace()) and _is_plain(text):
        return [tuple(runs)]
    rows = _cut(runs, _spans(text, width, keep_indent))
    return list(rows) if "\t" not in text else [tuple(_without_tabs(row)) for row in rows]


def broken_at(runs: Sequence[Run], offsets: Sequence[int]) -> Iterator[tuple[Run, ...]]:
    """A line's runs in as many parts as the offsets in its source line make."""
    part: list[Run] = []
    waiting = list(reversed(offsets))
    for run in runs:
        rest = run
        while waiting and waiting[-1] < rest.start + len(rest.text):
            cut = max(waiting.pop() - rest.start, 0)
            if cut:
                part.append(rest._replace(text=rest.text[:cut]))
                rest = rest._replace(text=rest.text[cut:], start=rest.start + cut)
            yield tuple(part)
            part = []
        part.append(rest)
    yield tuple(part)


def clipped(text: str, width: int) -> str:
    """`text`, or as much of its start as fits into `width` columns with an ellipsis after it."""
    if columns(text) <= width:
        return text
    return text[: _end_of_row(text, 0, width - 1)].rstrip() + "…"


def _is_plain(text: str) -> bool:
    return (text.isascii() and "\t" not in text) or _ONE_COLUMN_EACH(text) is not None


def _without_tabs(runs: Sequence[Run]) -> Iterator[Run]:
    """The runs with each tab as a run of four spaces, with the tab's own start."""
    for run in runs:
        start = run.start
        for piece in re.split("(\t)", run.text):
            if piece:
                yield run._replace(text=" " * TAB_COLUMNS if piece == "\t" else piece, start=start)
            start += len(piece)


def _spans(text: str, width: int, keep_indent: bool) -> Iterator[tuple[int, int]]:
    """The start and end of each row in `text`."""
    plain = _is_plain(text)
    end = len(text.rstrip())
    word = len(text) - len(text.lstrip())
    start = 0 if keep_indent and columns(text[: word + 1]) <= width else word
    while start < end:
        row_end = start + width if plain else _end_of_row(text, start, width)
        if row_end >= end:
            yield start, end
            return
        cut = (_last_break_plain if plain else _last_break)(text, word, row_end) or row_end
        yield start, word + len(text[word:cut].rstrip())
        start = cut
        while text[start].isspace():
            start += 1
        word = start


def _end_of_row(text: str, start: int, width: int) -> int:
    """The end of the longest stretch from `start` no wider than `width`, with the marks on its last character."""
    taken = 0
    for position in range(start, len(text)):
        taken += columns_of(text[position])
        if taken > width:
            return max(position, start + 1)
    return len(text)


def _last_break_plain(text: str, start: int, end: int) -> int:
    """The last place after `start`, up to `end`, to break text of characters of one column each; 0 for none."""
    space = max(text.rfind(" ", start, end + 1), 0)
    dash = max(text.rfind("-", start, end), text.rfind("–", start, end), text.rfind("—", start, end))
    return max(space, dash + 1) if dash > start and _breaks_after_dash(text, dash + 1) else space


def _last_break(text: str, start: int, end: int) -> int:
    """The same for any text."""
    return next((position for position in range(end, start, -1) if _may_break(text, position)), 0)


def _may_break(text: str, position: int) -> bool:
    before, after = text[position - 1], text[position]
    if after.isspace():
        return after not in _NO_BREAK_SPACES
    if before in _DASHES:
        return position > 1 and _breaks_after_dash(text, position)
    if columns_of(after) == 0 or before == _ZERO_WIDTH_JOINER or before.isspace():
        return False
    if 2 not in (columns_of(before), columns_of(after)):
        return False
    is_closing = after in _NEVER_FIRST or unicodedata.category(after) in {"Pe", "Pf"}
    return not is_closing and unicodedata.category(before) not in {"Ps", "Pi"}


def _breaks_after_dash(text: str, position: int) -> bool:
    """Whether the dash before `position` stands within a word: not before a space, a quote or another dash."""
    return not text[position - 2].isspace() and text[position].isalnum()


def _cut(runs: Sequence[Run], spans: Iterator[tuple[int, int]]) -> Iterator[tuple[Run, ...]]:
    """The runs' characters in each of the spans, which are in order, as runs."""
    if len(runs) == 1:
        (run,) = runs
        for start, end in spans:
            yield (Run(run.text[start:end], run.start + start, run.bold, run.italic, run.underline),)
        return
    index, at = 0, 0  # `at` is the offset of runs[index] in the joined text
    for start, end in spans:
        row: list[Run] = []
        while True:
            run = runs[index]
            run_end = at + len(run.text)
            first, last = max(start - at, 0), min(end, run_end) - at
            if first < last:
                row.append(Run(run.text[first:last], run.start + first, run.bold, run.italic, run.underline))
            if run_end >= end:
                break
            index, at = index + 1, run_end
        yield tuple(row)
