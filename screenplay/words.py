"""What counts as a word: a run of letters and digits, inner apostrophes and hyphens kept, and U.S.A. as one."""

from __future__ import annotations

import re
import unicodedata
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

# What joins begins each choice, so that the ends of most words are told by one look at what follows them.
_A_WORD = r"""[^\W_]+(?:(?:
        ['’\-‐‑]                                               # don't, well-worn
      | [.,](?=\d)(?<=\d[.,])                                  # 3.5, 3,000
      | \.(?=[^\W\d_](?![^\W_]))(?<=(?<![^\W_])[^\W\d_]\.)    # U.S.A.
    )[^\W_]+)*"""
_WORD = re.compile(_A_WORD, re.VERBOSE)
_TOKEN = re.compile(rf"{_A_WORD}|[^\w\s]|_|\n", re.VERBOSE)
# In a text of plain letters and signs, what stands between signs and spaces are its words, but for an apostrophe or a
# hyphen beside something else than letters, which is a sign, and a full stop or a comma before a letter. A pattern
# that begins with one letter is looked for several times as fast as one that begins with either of two.
_JOINED = [re.compile(rf"{sign}(?=[A-Za-z0-9])") for sign in (r"\.", ",")]
_LOOSE = [re.compile(rf"{sign}(?:(?![A-Za-z0-9])|(?<![A-Za-z0-9].))", re.DOTALL) for sign in "'-"]
STOP = ","
TEXT_END = "/"  # no sign stands among words and stops as it is in the text, so that this is nothing else
SENTENCE_ENDS = frozenset(".?!")
STOPS = SENTENCE_ENDS | {STOP}
_PLAIN_SIGNS = [
    code for code in range(128) if not chr(code).isalnum() and not chr(code).isspace() and chr(code) not in "'-.?!"
]
_APART = "\x1e"  # the record separator of ASCII, which is white space in a text
_BETWEEN_TEXTS = f" {_APART} "
_STOP_FOR_SIGN = {**dict.fromkeys([*_PLAIN_SIGNS, ord("\n")], STOP), ord(_APART): TEXT_END}
_END_FOR_SIGN = {"。": ".", "．": ".", "।": ".", "？": "?", "؟": "?", "！": "!", **{end: end for end in SENTENCE_ENDS}}
_FIRST_MARK = "\u0300"


def words(text: str) -> list[str]:
    """The words of `text` in order, as they are written: `Don't wait--well-worn` has Don't, wait and well-worn.

    Accents written as marks of their own, and the vowel signs of scripts that have them, belong to their letter, as
    in Unicode's word rules (UAX 29). As there, `3.5` and `U.S.A.` are one word each, without the last full stop. Unlike
    there, hyphens join, a full stop joins no longer words (`wait.What` is a slip), and a run of ideographs is one word.
    """
    if text.isascii():
        return [word for word in words_and_stops(text) if word not in STOPS]
    return _found(_WORD, text)


def words_and_stops(text: str) -> list[str]:
    """The words of `text` in order, with a stop for each other sign and each line feed between them: one of
    SENTENCE_ENDS where the sign ends a sentence, if it is no part of a number, and STOP for any other."""
    if not text.isascii() or _APART in text or _has_joined(text):
        return [
            token if len(token) > 1 or token.isalnum() or _has_marks(token) else _END_FOR_SIGN.get(token, STOP)
            for token in _found(_TOKEN, text)
        ]
    return _spaced(text).split()


def _spaced(text: str) -> str:
    """A text of plain letters and signs, or several that are set apart, with stops for its signs, and spaces around
    them."""
    for loose in _LOOSE:
        text = loose.sub(STOP, text)
    text = text.translate(_STOP_FOR_SIGN)
    for stop in STOPS:
        if stop in text:
            text = text.replace(stop, f" {stop} ")
    return text


def words_and_stops_of(texts: Sequence[str]) -> list[str]:
    """What `words_and_stops` has of some texts, one after the other, with TEXT_END behind each. Where all are of plain
    letters and signs they are looked at together, and else each half of them by itself."""
    together = _BETWEEN_TEXTS.join([*texts, ""])
    if together.isascii() and together.count(_APART) == len(texts) and not _has_joined(together):
        return _spaced(together).split()
    if len(texts) == 1:
        return [*words_and_stops(texts[0]), TEXT_END]
    half = len(texts) // 2
    return words_and_stops_of(texts[:half]) + words_and_stops_of(texts[half:])


def _has_joined(text: str) -> bool:
    return any(joined.search(text) for joined in _JOINED)


def token_spans(text: str) -> list[tuple[int, int]]:
    """Where each of `words_and_stops` begins and ends, in characters."""
    return [match.span() for match in _TOKEN.finditer(_with_letters(text))]


def word_spans(text: str) -> list[tuple[int, int]]:
    """Where each of `words` begins and ends, in characters."""
    return [match.span() for match in _WORD.finditer(_with_letters(text))]


def count_words(text: str) -> int:
    """How many words `text` has."""
    return len(words(text))


def _found(pattern: re.Pattern[str], text: str) -> list[str]:
    lettered = _with_letters(text)
    if lettered is text:
        return pattern.findall(text)
    return [text[match.start() : match.end()] for match in pattern.finditer(lettered)]


def _has_marks(text: str) -> bool:
    return not text.isascii() and max(text) >= _FIRST_MARK and any(unicodedata.category(one)[0] == "M" for one in text)


def _with_letters(text: str) -> str:
    """`text` with a letter for each mark that belongs to one; itself where there is none."""
    return "".join(map(_letter_for_mark, text)) if _has_marks(text) else text


def _letter_for_mark(character: str) -> str:
    return "a" if unicodedata.category(character)[0] == "M" else character
