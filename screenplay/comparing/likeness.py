"""How likely it is that one line is another line reworded.

A naive Bayes comparison of two accounts of a pair of lines, as a log-likelihood ratio in nats: either the second line
is the first one rewritten, each word kept with a probability that a Beta distribution describes, or it is a line of its
own, whose words come as often as they do in both drafts together.
"""

from __future__ import annotations

import re
from collections import Counter
from itertools import chain
from math import exp, inf, lgamma, log
from typing import TYPE_CHECKING

from rapidfuzz.distance import Indel, LCSseq

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from screenplay.comparing.word_diff import CommonRun

# The share of its words that a reworded line keeps: a Beta distribution with its mean at two thirds.
KEPT_ALPHA, KEPT_BETA = 3.0, 1.5
SHORTEST_BUCKET = 8
# Two lines of English that have nothing to do with each other are seldom this like in their letters.
LETTERS_ALIKE = 0.62
NATS_FOR_LETTERS = 25.0
LIKE_ENOUGH = 5.0  # by words alone
MOST_OF_IT = 0.6  # of the words of the shorter of two lines, for it to be looked for within the longer
LONGEST_BY_LETTERS = 400  # letters; a longer line has words enough
NOTHING_SHARED = -9.0
RAREST = 7.0
LAST_CHARACTER = 0x10FFF0  # those behind it are no word's
LIKELIEST = 0.5  # chance of a word: what nearly every line has tells nothing by being left out
MOST_WITH_A_RARE_WORD = 16  # lines, of both drafts
_WORD = re.compile(r"\w+(?:['’]\w+)*")  # that a word is the same in both drafts is all that matters here


def _log_beta(a: float, b: float) -> float:
    return lgamma(a) + lgamma(b) - lgamma(a + b)


class _Chances(dict[int, tuple[float, float]]):
    """What a word's being there and its not being there tell, by how many lines of the sample have it.

    The chance that a line of `length` words has the word though it has nothing to do with the other line gives the
    pair (log odds against it, surprise at its absence), in nats.
    """

    def __init__(self, length: int, total: int) -> None:
        super().__init__()
        self.length, self.total = length, total

    def __missing__(self, count: int) -> tuple[float, float]:
        chance = min(LIKELIEST, max(0.002, 1 - exp(-self.length * (count + 0.5) / self.total)))
        self[count] = log((1 - chance) / chance), -log(1 - chance)
        return self[count]


class _WordCharacters(dict[str, str]):
    """A character for each word, given when the word is first met, in `words` by its code; beyond a million, one for
    all."""

    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []

    def __missing__(self, word: str) -> str:
        character = self[word] = chr(min(len(self.words), LAST_CHARACTER))
        self.words.append(word)
        return character


class _Surprises(dict[str, float]):
    """How little each word is expected, in nats, at most RAREST, by how many lines have it."""

    def __init__(self, counts: Counter[str], total: int) -> None:
        super().__init__()
        self.counts, self.total = counts, total

    def __missing__(self, word: str) -> float:
        surprise = self[word] = min(RAREST, log(self.total / (self.counts[word] + 0.5)))
        return surprise


class Likeness:
    """Likeness of lines, given a sample, one line in so many, that words' frequency is learnt from.

    `counts` estimates how many lines have a word.
    """

    def __init__(self, sample: Iterable[str], one_in: int = 1) -> None:
        self._words: dict[str, frozenset[str]] = {}
        self._absent: dict[tuple[str, int], float] = {}
        self._chances: dict[int, _Chances] = {}
        self._kept: dict[tuple[int, int], float] = {}
        self._splits: dict[str, list[str]] = {}
        self._rare: dict[str, list[str]] = {}
        self._in_order: dict[str, str] = {}
        self._characters = _WordCharacters()
        self.counts = Counter(chain.from_iterable(map(self.words_of, sample)))
        if one_in > 1:
            self.counts = Counter({word: count * one_in for word, count in self.counts.items()})
        self._total = self.counts.total() + 60
        self._surprises = _Surprises(self.counts, self._total)

    def words_of(self, text: str) -> frozenset[str]:
        """The words of a line, whatever their case."""
        found = self._words.get(text)
        if found is None:
            found = self._words[text] = frozenset(self._split(text))
        return found

    def _split(self, text: str) -> list[str]:
        found = self._splits.get(text)
        if found is None:
            found = self._splits[text] = _WORD.findall(text.lower())
        return found

    def rare_words_of(self, text: str) -> list[str]:
        """Those of its words that few lines have."""
        found = self._rare.get(text)
        if found is None:
            counts = self.counts
            found = self._rare[text] = [w for w in self.words_of(text) if counts[w] <= MOST_WITH_A_RARE_WORD]
        return found

    def words_in_order(self, text: str) -> str:
        """The words of a line, as often as they come, in order, a character for each."""
        found = self._in_order.get(text)
        if found is None:
            found = self._in_order[text] = "".join(map(self._characters.__getitem__, self._split(text)))
        return found

    def between(self, before: str, after: str) -> float:
        """Nats for "reworded" against "two lines of their own"; 0 where there is nothing to tell by."""
        old, new = self.words_of(before), self.words_of(after)
        length = len(old) + len(new)
        if not length:
            return 0.0
        shared = old & new
        if not shared and length > 3 * SHORTEST_BUCKET:
            return NOTHING_SHARED
        bucket = SHORTEST_BUCKET
        while bucket * 2 < length:
            bucket *= 2
        chances = self._chances.get(bucket)
        if chances is None:
            chances = self._chances[bucket] = _Chances(bucket, self._total)
        score = self._kept_part(len(shared), max(len(old), len(new)))
        score += (self._absence(before, old, chances) + self._absence(after, new, chances)) / 2
        counts = self.counts
        for word in shared:
            score += chances[counts[word]][0]
        return score

    def with_letters(self, before: str, after: str) -> float:
        """As `between`, or more where the words differ and their letters do not: `walks` for `walked`."""
        score = self.between(before, after)
        if score < LIKE_ENOUGH and SHORTEST_BUCKET < len(before) < LONGEST_BY_LETTERS > len(after):
            alike = Indel.normalized_similarity(before, after, score_cutoff=LETTERS_ALIKE)
            if alike:
                score = max(score, (alike - LETTERS_ALIKE) * NATS_FOR_LETTERS)
        return score

    def here(self, before: str, after: str) -> float:
        """As `with_letters`, or more where one of the two is mostly in the other: of lines in one place."""
        score = self.with_letters(before, after)
        return max(score, self.mostly_within(before, after)) if score < LIKE_ENOUGH else score

    def elsewhere(self, before: str, after: str) -> float:
        """As `with_letters`, or more where the whole of one is in the other word for word: of lines in any places."""
        score = self.with_letters(before, after)
        part, whole = sorted((self.words_in_order(before), self.words_in_order(after)), key=len)
        return max(score, self.within(before, after)) if part and part in whole else score

    def mostly_within(self, before: str, after: str) -> float:
        """As `within`, where one of the two has most of the words of the other; without end against it where not."""
        old, new = self.words_of(before), self.words_of(after)
        shorter = min(len(old), len(new))
        is_mostly = shorter > 0 and len(old & new) >= MOST_OF_IT * shorter
        return self.within(before, after) if is_mostly else -inf

    def within(self, before: str, after: str) -> float:
        """Nats for "one of these is a part of the other", however little that part is of the whole."""
        part, whole = sorted((self.words_in_order(before), self.words_in_order(after)), key=len)
        return self.told_by_runs(part, whole, self.runs_in_common(part, whole))

    def runs_in_common(self, one: str, other: str) -> list[CommonRun]:
        """Words in a row, in order, that two lines of words have in common, where they are more than chance."""
        if not one or not other:
            return []
        if one in other:
            return [(0, other.find(one), len(one))]
        if other in one:
            return [(one.find(other), 0, len(other))]
        places = max(len(one), len(other))
        blocks = LCSseq.opcodes(one, other).as_matching_blocks()
        runs = [(block.a, block.b, block.size) for block in blocks]
        return [run for run in runs if self.told_by(one[run[0] : run[0] + run[2]], places) > 0]

    def told_by_runs(self, part: str, whole: str, runs: Sequence[CommonRun]) -> float:
        """Nats for one line of words to be a part of another, by the runs that they have in common."""
        covered = sum(length for _, _, length in runs)
        places = len(whole) - len(part) + 1 if covered == len(part) else len(whole)
        told = sum(self.told_by(part[start : start + length], places) for start, _, length in runs)
        return told + self._kept_part(covered, len(part)) if runs else 0.0

    def told_by(self, run: str, places: int) -> float:
        """Nats that it tells that these words in a row stand in one of so many places."""
        words = self._characters.words
        return sum([self._surprises[words[ord(character)]] for character in run]) - log(places)

    def surprise(self, text: str) -> float:
        """How little one would expect this very line to be met by chance, in nats, at most RAREST for each word."""
        return sum(map(self._surprises.__getitem__, self.words_of(text)))

    def _absence(self, text: str, words: frozenset[str], chances: _Chances) -> float:
        key = text, chances.length
        known = self._absent.get(key)
        if known is None:
            counts = self.counts
            known = self._absent[key] = sum([chances[counts[word]][1] for word in words])
        return known

    def _kept_part(self, shared: int, length: int) -> float:
        known = self._kept.get((shared, length))
        if known is None:
            lost = length - shared
            known = _log_beta(KEPT_ALPHA + shared, KEPT_BETA + lost) - _log_beta(KEPT_ALPHA, KEPT_BETA)
            self._kept[shared, length] = known
        return known


class RareWords:
    """Lines, of texts by position, looked up by words that few lines have."""

    def __init__(self, likeness: Likeness, texts: Sequence[str], positions: Iterable[int]) -> None:
        self._likeness = likeness
        self._having: dict[str, list[int]] = {}
        for at in positions:
            for word in likeness.rare_words_of(texts[at]):
                self._having.setdefault(word, []).append(at)

    def shared_by(self, text: str) -> list[int]:
        """Positions of the lines that have two rare words or more in common with a text, rising."""
        once: set[int] = set()
        again: set[int] = set()
        for word in self._likeness.rare_words_of(text):
            having = self._having.get(word, ())
            for at in having if len(having) <= MOST_WITH_A_RARE_WORD else ():
                (again if at in once else once).add(at)
        return sorted(again)
