"""How likely it is that one line is another line reworded.

A naive Bayes comparison of two accounts of a pair of lines, as a log-likelihood ratio in nats: either the second line
is the first one rewritten, each word kept with a probability that a Beta distribution describes, or it is a line of its
own, whose words come as often as they do in both drafts together.
"""

from __future__ import annotations

from collections import Counter
from math import exp, lgamma, log
from typing import TYPE_CHECKING

from rapidfuzz.distance import Indel

from screenplay.words import words

if TYPE_CHECKING:
    from collections.abc import Iterable

# The share of its words that a reworded line keeps: a Beta distribution with its mean at two thirds.
KEPT_ALPHA, KEPT_BETA = 3.0, 1.5
SHORTEST_BUCKET = 8
# Two lines of English that have nothing to do with each other are seldom this like in their letters.
LETTERS_ALIKE = 0.62
NATS_FOR_LETTERS = 25.0
RAREST = 7.0


def _log_beta(a: float, b: float) -> float:
    return lgamma(a) + lgamma(b) - lgamma(a + b)


class Likeness:
    """Likeness of lines, given the lines that a word's frequency is learnt from."""

    def __init__(self, sample: Iterable[str]) -> None:
        self._words: dict[str, frozenset[str]] = {}
        self._absent: dict[tuple[str, int], float] = {}
        self._weights: dict[int, dict[str, float]] = {}
        self._kept: dict[tuple[int, int], float] = {}
        self._counts: Counter[str] = Counter()
        for text in sample:
            self._counts.update(self.words_of(text))
        self._total = sum(self._counts.values()) + 60

    def words_of(self, text: str) -> frozenset[str]:
        """The words of a line, in lower case."""
        found = self._words.get(text)
        if found is None:
            found = self._words[text] = frozenset(words(text.lower()))
        return found

    def between(self, before: str, after: str) -> float:
        """Nats for "reworded" against "two lines of their own"; 0 where there is nothing to tell by."""
        old, new = self.words_of(before), self.words_of(after)
        length = len(old) + len(new)
        if not length:
            return 0.0
        shared = old & new
        if not shared and length > 3 * SHORTEST_BUCKET:
            return -9.0
        bucket = SHORTEST_BUCKET
        while bucket * 2 < length:
            bucket *= 2
        weights = self._weights.get(bucket)
        if weights is None:
            weights = self._weights[bucket] = {}
        score = self._kept_part(len(shared), length) + (self._base(before, bucket) + self._base(after, bucket)) / 2
        for word in shared:
            weight = weights.get(word)
            if weight is None:
                weight = weights[word] = self._weight(word, bucket)
            score += weight
        return score

    def with_letters(self, before: str, after: str) -> float:
        """As `between`, or more where the words differ and their letters do not: `walks` for `walked`."""
        score = self.between(before, after)
        if score < NATS_FOR_LETTERS / 5 and len(before) > SHORTEST_BUCKET:
            alike = Indel.normalized_similarity(before, after, score_cutoff=LETTERS_ALIKE)
            if alike:
                score = max(score, (alike - LETTERS_ALIKE) * NATS_FOR_LETTERS)
        return score

    def surprise(self, text: str) -> float:
        """How little one would expect this very line to be met by chance, in nats, at most RAREST for each word."""
        return sum(min(RAREST, log(self._total / (self._counts[word] + 0.5))) for word in self.words_of(text))

    def rarity(self, word: str) -> int:
        """How many lines of the sample have the word."""
        return self._counts[word]

    def _chance(self, word: str, bucket: int) -> float:
        """The chance that a line of `bucket` words that has nothing to do with it has the word."""
        chance = 1 - exp(-bucket * (self._counts[word] + 0.5) / self._total)
        return min(0.95, max(chance, 0.002))

    def _weight(self, word: str, bucket: int) -> float:
        chance = self._chance(word, bucket)
        return log((1 - chance) / chance)

    def _base(self, text: str, bucket: int) -> float:
        known = self._absent.get((text, bucket))
        if known is None:
            known = -sum(log(1 - self._chance(word, bucket)) for word in self.words_of(text))
            self._absent[text, bucket] = known
        return known

    def _kept_part(self, shared: int, length: int) -> float:
        known = self._kept.get((shared, length))
        if known is None:
            lost = length / 2 - shared
            known = _log_beta(KEPT_ALPHA + shared, KEPT_BETA + lost) - _log_beta(KEPT_ALPHA, KEPT_BETA)
            self._kept[shared, length] = known
        return known
