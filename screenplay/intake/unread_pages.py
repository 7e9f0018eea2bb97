"""Which pages of a PDF could not be read, or not wholly: why, and after which words they stand."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from screenplay.intake.typed_pages import TypedPage

_LEAST_WORDS = 3  # of a line that is quoted; one with fewer stands in many places
_DIGITS = re.compile(r"\d+")  # a header that counts pages is one and the same on each

# What may be wrong with a page, as the program that reads PDFs calls it.
_FLAWS = {
    "not opened": "The file is damaged here: the page could not be opened.",
    "picture": "It is a picture, or mostly one, as a scan is: what is written in a picture cannot be read.",
    "too many words": "More words stand on it than on any page of a script: the last of them were left out.",
}
_SET_ASIDE = "All on it is tilted, pale or much larger than the script, as a name across a page is, and was left out."
_BARE = "Nothing was found on it. If something stands there, it could not be read."


@dataclass(frozen=True, slots=True)
class UnreadPage:
    """A page of a PDF that could not be read, or not wholly: its `place` in the file, from 1; `why`, a sentence;
    `after`, the last line that was read before it, "" where none tells the place."""

    place: int
    why: str
    after: str


def unread_pages(flaws: Sequence[str], have_words: Sequence[bool], typed: Mapping[int, TypedPage]) -> list[UnreadPage]:
    """Those of which something is missing in `typed`, the pages that were read, by their numbers.

    `flaws` has what is wrong with each page, "" for nothing, and `have_words` whether any words were found on it.
    """
    texts = {number: [line.text for line in page if len(line.words) >= _LEAST_WORDS] for number, page in typed.items()}
    times = Counter(_DIGITS.sub("0", text) for page in texts.values() for text in page)
    found: list[UnreadPage] = []
    last = ""
    for number, (flaw, has_words) in enumerate(zip(flaws, have_words, strict=True), 1):
        if flaw or number not in typed:
            why = _FLAWS[flaw] if flaw else _SET_ASIDE if has_words else _BARE
            found.append(UnreadPage(number, why, last))
        last = next((text for text in reversed(texts.get(number, [])) if times[_DIGITS.sub("0", text)] == 1), last)
    return found
