"""Where somebody is addressed by name.

A name is used in address where marks or the line's ends set it off from the rest: "Abel, come in", "Come in, Abel",
"Abel!", "Good night, Mrs. Hargan." In a list, "Abel, Rhona and Kit came", the first is taken for one too. Told by
marks, not by meaning.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from screenplay.speech.contractions import straight
from screenplay.words import word_spans

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

_TITLES = frozenset({"mr", "mrs", "ms", "miss", "dr", "sir", "captain", "doctor", "uncle", "aunt"})
_BEFORE = re.compile(r"(?:^|[,.!?…;:—–-])[\s\"'“‘(]*$")
_AFTER = re.compile(r"[\s]*(?:$|[,.!?…;:—–-]|[\"”)])")
_TITLE_END = re.compile(r"\.?\s+")


def names_in_address(line: str, names: Collection[str]) -> Iterator[tuple[int, int]]:
    """Where a line addresses somebody by a name: `names` are words of names in small letters. A title counts with the
    name behind it, and names in a row are one."""
    lowered = straight(line)
    spans = word_spans(lowered)
    at = 0
    while at < len(spans):
        last = _last_of_name(lowered, spans, at, names)
        if last is None:
            at += 1
            continue
        start, end = spans[at][0], spans[last][1]
        is_capital = line[start].isupper() and line[spans[last][0]].isupper()
        if is_capital and _BEFORE.search(line[:start]) and _AFTER.match(line, end):
            yield start, end
        at = last + 1


def _last_of_name(line: str, spans: list[tuple[int, int]], at: int, names: Collection[str]) -> int | None:
    """The last word of a name that begins at a word, None where none does."""
    last = at
    if line[slice(*spans[at])] in _TITLES and at + 1 < len(spans):
        if not _TITLE_END.fullmatch(line, spans[at][1], spans[at + 1][0]):
            return None
        last = at + 1
    elif line[slice(*spans[last])] not in names:
        return None
    while last + 1 < len(spans) and line[slice(*spans[last + 1])] in names and _is_space(line, spans, last):
        last += 1
    return last


def _is_space(line: str, spans: list[tuple[int, int]], at: int) -> bool:
    return line[spans[at][1] : spans[at + 1][0]].isspace()
