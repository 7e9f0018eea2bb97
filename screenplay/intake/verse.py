"""Telling the lines of verse from their own overhang, where a full line is followed by a capital letter.

Two things speak for or against a new line of verse there: how long the lines are that a text surely has, and whether
the word is one that begins lines or one that stands in the middle of them, as names do. Both are counted in the text
itself, and the two likelihoods compared.
"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass, field
from itertools import chain, pairwise
from typing import TYPE_CHECKING

from screenplay.page import columns

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from screenplay.intake.typed_pages import TypedLine

_BIN = 3  # columns: lengths as near as that count as alike
_LONGEST = 60  # bins
_SMOOTHING = 0.5
_FALL = 1.0  # nats a bin
_WORD_SMOOTHING = 1.0


@dataclass(slots=True)
class Verse:
    """What is counted in the lines that a text surely has: their lengths, and the words at their start and inside,
    each with the sign that stands before it. Those inside the typed lines are counted before, whatever lines these
    make: `steps_within` them."""

    lengths: Counter[int] = field(default_factory=Counter)
    starts: Counter[tuple[str, str]] = field(default_factory=Counter)
    inside: Counter[tuple[str, str]] = field(default_factory=Counter)

    def count(self, lines: Iterable[Sequence[Sequence[TypedLine]]]) -> None:
        """Count lines, given for each speech, each of them as the typed lines that it fills."""
        for speech in lines:
            for line in speech:
                self.lengths[_bin(_length_of(line))] += 1
                for before, after in pairwise(line):
                    self.inside[_step_between(before, after)] += 1
            for before_line, line in pairwise(speech):
                self.starts[_step_between(before_line[-1], line[0])] += 1

    def goes_on(self, before: Sequence[TypedLine], after: Sequence[TypedLine]) -> bool:
        """Whether `after` is likelier the rest of the line `before` than a line of its own."""
        together = self._length(_length_of(chain(before, after)))
        apart = self._length(_length_of(before)) + self._length(_length_of(after))
        key = _step_between(before[-1], after[0])
        word = _logarithm(self.inside, key) - _logarithm(self.starts, key)
        return together - apart + word > 0

    def _length(self, length: float) -> float:
        """The logarithm of the share of lines that are about that long. A length that no line has is the less likely
        the farther it is from one that several have."""
        share = (self.lengths[_bin(length)] + _SMOOTHING) / (self.lengths.total() + _SMOOTHING * _LONGEST)
        return math.log(share) - _FALL * self._distance(_bin(length))

    def _distance(self, at: int) -> int:
        """How many bins a length that was not counted is from the nearest that was, more than once."""
        if self.lengths[at]:
            return 0
        return min((abs(at - other) for other, count in self.lengths.items() if count > 1), default=0)


def steps_within(lines: Iterable[TypedLine]) -> Counter[tuple[str, str]]:
    """How often each step from one word to the next is met within typed lines."""
    return Counter(_step(before.text, word.text) for line in lines for before, word in pairwise(line.words))


def _length_of(lines: Iterable[TypedLine]) -> float:
    """How many columns lines take as one where all letters are of one width: what was broken by hand was broken by
    that count. It is taken no further than it matters."""
    length = -1.0
    for line in lines:
        length += columns(line.text) + 1
        if length > _LONGEST * _BIN:
            break
    return length


def _bare(word: str) -> str:
    """A word without the signs around it."""
    return word.strip(".,;:!?'\"“”‘’()[]…-–—")[:40]


def _step_between(before: TypedLine, after: TypedLine) -> tuple[str, str]:
    return _step(before.words[-1].text, after.words[0].text)


def _step(before: str, word: str) -> tuple[str, str]:
    """How a word follows another: the sign between them, and the word itself unless it begins small."""
    bare = _bare(word)
    return _sign(before), "" if bare[:1].islower() else bare


def _bin(length: float) -> int:
    return min(int(length / _BIN), _LONGEST)


def _sign(word: str) -> str:
    """The kind of sign that ends a word: that of a sentence, of a part of one, or none."""
    end = word.rstrip("'\"”’)]")[-1:]
    if end in ".!?…":
        return "."
    return "," if end in ",;:-–—" else ""


def _logarithm(counts: Counter[tuple[str, str]], key: tuple[str, str]) -> float:
    return math.log((counts[key] + _WORD_SMOOTHING) / (counts.total() + 1))
