"""How near voices are to each other: Burrows's Delta over the words that all of them say most.

Source: Burrows 2002, "'Delta': a measure of stylistic difference and a guide to likely authorship", Literary and
Linguistic Computing 17. How often each voice says each of the commonest words is told as a z-score, by the mean and the
standard deviation of the voices compared; Delta is the mean of the differences between two voices' z-scores, signs left
out. 0 is the same habit; voices as far apart as any two by chance come near to 1.13.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations, repeat
from math import dist, sqrt
from operator import add, sub
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

COMMONEST_WORDS = 150  # as many as Burrows takes
FEWEST_WORDS = 300  # a voice under this is too short for likeness and variety (P, see DEVELOPERS.md)
FEWEST_WORDS_TO_SET = 100  # from here on a voice counts for what is usual in a script: this project's own choice
FEWEST_VOICES = 3  # with two, each word puts them equally far apart, whatever they say


class Countable(Protocol):
    """What is asked of a voice: its name, how many words it has, and how often it says each."""

    @property
    def name(self) -> str: ...
    @property
    def words(self) -> int: ...
    @property
    def counts(self) -> Mapping[str, int]: ...


@dataclass(frozen=True, slots=True)
class DeltaMeasure:
    """By what voices are held against each other: the commonest words, with the mean and the standard deviation of the
    share, 0 to 1, that each has in a voice. Words that all say equally often are not among them."""

    words: tuple[str, ...]
    means: tuple[float, ...]
    spreads: tuple[float, ...]

    def scores(self, voice: Countable) -> list[float]:
        """The z-score of each of the words in a voice."""
        said, total = voice.counts, voice.words
        return [
            (said.get(word, 0) / total - mean) / spread
            for word, mean, spread in zip(self.words, self.means, self.spreads, strict=True)
        ]

    def delta(self, one: Countable, other: Countable) -> float | None:
        """How far two voices are apart; None where either is too short."""
        if min(one.words, other.words) < FEWEST_WORDS:
            return None
        return _mean_difference(self.scores(one), self.scores(other))


@dataclass(frozen=True, slots=True)
class VoiceLikeness:
    """How far each voice is from each other. `deltas` has a row for each of `names`, in the order of the voices, and in
    it a Delta for each, 0 for itself; voices that are too short are left out."""

    names: tuple[str, ...]
    deltas: tuple[tuple[float, ...], ...]

    def most_like(self, name: str) -> tuple[str, float] | None:
        """The voice that is most like one, and how far it is; None where it was left out."""
        if name not in self.names:
            return None
        row = self.deltas[self.names.index(name)]
        delta, other = min((delta, other) for other, delta in zip(self.names, row, strict=True) if other != name)
        return other, delta


def measure_of(voices: Sequence[Countable]) -> DeltaMeasure | None:
    """The measure that some voices set, those of FEWEST_WORDS_TO_SET words and more; None where they are fewer than
    FEWEST_VOICES. Shorter ones than FEWEST_WORDS help to say what is usual, and are told no likeness themselves."""
    setting = [voice for voice in voices if voice.words >= FEWEST_WORDS_TO_SET]
    if len(setting) < FEWEST_VOICES:
        return None
    together = added_up(voice.counts for voice in setting)
    fewest_times = sorted(together.values(), reverse=True)[:COMMONEST_WORDS][-1]
    often = [(-times, word) for word, times in together.items() if times >= fewest_times]
    commonest = [word for _, word in sorted(often)[:COMMONEST_WORDS]]
    rows = [[times / voice.words for times in map(voice.counts.get, commonest, repeat(0))] for voice in setting]
    found: list[tuple[str, float, float]] = []
    for word, shares in zip(commonest, zip(*rows, strict=True), strict=True):
        mean = sum(shares) / len(shares)
        spread = dist(shares, [mean] * len(shares)) / sqrt(len(shares) - 1)
        if spread > 0:
            found.append((word, mean, spread))
    words, means, spreads = zip(*found, strict=True) if found else ((), (), ())
    return DeltaMeasure(tuple(words), tuple(means), tuple(spreads))


def added_up(counts: Iterable[Mapping[str, int]]) -> dict[str, int]:
    """How often each word comes in all of some counts."""
    largest, *others = sorted(counts, key=len, reverse=True) or [{}]
    found = dict(largest)
    for each in others:
        found.update(zip(each, map(add, map(found.get, each, repeat(0)), each.values()), strict=True))
    return found


def likeness(voices: Sequence[Countable]) -> VoiceLikeness | None:
    """How far the voices of a script are from each other, by their own measure; None where they set none, or fewer than
    two are of FEWEST_WORDS words."""
    measure = measure_of(voices)
    long_enough = [voice for voice in voices if voice.words >= FEWEST_WORDS]
    if measure is None or len(long_enough) < 2:
        return None
    scores = [measure.scores(voice) for voice in long_enough]
    rows = [[0.0] * len(scores) for _ in scores]
    for (i, one), (j, other) in combinations(enumerate(scores), 2):
        rows[i][j] = rows[j][i] = _mean_difference(one, other)
    return VoiceLikeness(
        names=tuple(voice.name for voice in long_enough),
        deltas=tuple(map(tuple, rows)),
    )


def _mean_difference(one: Sequence[float], other: Sequence[float]) -> float:
    if not one:
        return 0.0
    together: float = sum(map(abs, map(sub, one, other)))
    return together / len(one)
