"""What is looked for: words, their beginnings, and words that stand together."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.findable.folding import Word, words_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

MOST_ASKED = 200  # characters
MOST_TERMS = 12
_PARTS = re.compile(r'["“”„«»]([^"“”„«»]*)["“”„«»]?(\*?)|([^\s"“”„«»]+)')


@dataclass(frozen=True, slots=True)
class Term:
    """Words that stand one behind the other, folded; of the last, with `is_beginning`, as it begins."""

    words: tuple[str, ...]
    is_beginning: bool = False

    def stands_at(self, words: Sequence[Word], at: int) -> bool:
        """Whether it stands in these words from the one of that index on."""
        met = [word.folded for word in words[at : at + len(self.words)]]
        if len(met) < len(self.words) or met[:-1] != list(self.words[:-1]):
            return False
        return met[-1].startswith(self.words[-1]) if self.is_beginning else met[-1] == self.words[-1]


def terms_in(asked: str) -> tuple[Term, ...]:
    """The terms of what somebody typed: `tide`, `tid*`, `"turns at four"`; each has to stand in what is found. Whatever
    is typed else has the words in it as terms; what has none has no terms."""
    found: dict[Term, None] = {}
    for quoted, quoted_star, bare in _PARTS.findall(asked[:MOST_ASKED]):
        text, is_beginning = (quoted, bool(quoted_star)) if not bare else (bare.rstrip("*"), bare.endswith("*"))
        if words := tuple(word.folded for word in words_of(text)):
            found[Term(words, is_beginning)] = None
    return tuple(found)[:MOST_TERMS]


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of a text; `is_found` of one that was looked for."""

    text: str
    is_found: bool


def pieces(text: str, terms: Sequence[Term], beside: int) -> tuple[Piece, ...]:
    """A text with what was found in it told apart, from so many characters before the first of it to as many behind the
    last that is near; "…" where it is cut."""
    hits = list(_hits(text, terms))
    if not hits:
        return (Piece(text[: 2 * beside] + ("…" if len(text) > 2 * beside else ""), is_found=False),)
    start = max(hits[0][0] - beside, 0)
    end = min(hits[0][1] + 2 * beside, len(text))
    shown = [(first, last) for first, last in hits if last <= end]
    told: list[Piece] = []
    at = start
    for first, last in shown or [(hits[0][0], end)]:
        told += [Piece(text[at:first], is_found=False), Piece(text[first:last], is_found=True)]
        at = last
    told.append(Piece(text[at:end] + ("…" if end < len(text) else ""), is_found=False))
    if start:
        told.insert(0, Piece("…", is_found=False))
    return tuple(piece for piece in told if piece.text)


def _hits(text: str, terms: Sequence[Term]) -> Iterator[tuple[int, int]]:
    """Where terms stand, in order and apart."""
    words = words_of(text)
    behind = 0
    for at, word in enumerate(words):
        here = [len(term.words) for term in terms if term.stands_at(words, at)]
        if here and at >= behind:
            behind = at + max(here)
            yield word.start, words[behind - 1].end
