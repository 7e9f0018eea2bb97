"""A text's words as they are looked for: without capitals, accents and apostrophes, alike in whatever database."""

from __future__ import annotations

import re
import unicodedata
from typing import NamedTuple

MOST_LETTERS = 80  # of a word; what is longer is found by as many

# Letters and digits, with the apostrophes and the marks that stand within a word.
_WORD = re.compile(r"[^\W_](?:[^\W_]|[\u0300-\u036f]|['’ʼ](?=[^\W_]))*")
# Letters that are one by themselves and are typed as others where a keyboard lacks them (common practice).
_TYPED_AS = str.maketrans({"æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ı": "i", "ŧ": "t"})


class Word(NamedTuple):
    """A word as it is looked for, and where it stands in the text."""

    folded: str
    start: int
    end: int


def words_of(text: str) -> list[Word]:
    """The words of a text in their order."""
    found = ((fold(match[0]), match) for match in _WORD.finditer(text))
    return [Word(folded, match.start(), match.end()) for folded, match in found if folded]


def fold(word: str) -> str:
    """A word without capitals, accents and apostrophes (Unicode's compatibility decomposition, its marks left out)."""
    parted = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", word).casefold()).translate(_TYPED_AS)
    return "".join(letter for letter in parted if letter.isalnum())[:MOST_LETTERS]
