"""What counts as a word: a run of letters and digits, inner apostrophes and hyphens kept, and U.S.A. as one."""

from __future__ import annotations

import re
import unicodedata

_WORD = re.compile(
    r"""[^\W_]+(?:(?:
        ['’\-‐‑]                                               # don't, well-worn
      | (?<=\d)[.,](?=\d)                                      # 3.5, 3,000
      | (?<=(?<![^\W_])[^\W\d_])\.(?=[^\W\d_](?![^\W_]))      # U.S.A.
    )[^\W_]+)*""",
    re.VERBOSE,
)
_FIRST_MARK = "\u0300"


def words(text: str) -> list[str]:
    """The words of `text` in order, as they are written: `Don't wait--well-worn` has Don't, wait and well-worn.

    Accents written as marks of their own, and the vowel signs of scripts that have them, belong to their letter, as
    in Unicode's word rules (UAX 29). As there, `3.5` and `U.S.A.` are one word each, without the last full stop. Unlike
    there, hyphens join, a full stop joins no longer words (`wait.What` is a slip), and a run of ideographs is one word.
    """
    return [text[start:end] for start, end in _spans(text)]


def count_words(text: str) -> int:
    """How many words `text` has."""
    return len(_spans(text))


def _spans(text: str) -> list[tuple[int, int]]:
    if text and not text.isascii() and max(text) >= _FIRST_MARK:
        text = "".join(map(_letter_for_mark, text))
    return [match.span() for match in _WORD.finditer(text)]


def _letter_for_mark(character: str) -> str:
    return "a" if unicodedata.category(character)[0] == "M" else character
