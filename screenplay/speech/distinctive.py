"""Which words set one voice apart from all others together.

Source: Monroe, Colaresi, Quinn 2008, "Fightin' Words", Political Analysis 16: the log-odds ratio of a word in two
bodies of speech, weighted by an informative Dirichlet prior and divided by its standard deviation (their equations 15
to 22, numbers from memory). The prior is how often the word comes in both together, as if PRIOR_WORDS words of it had
been heard.
"""

from __future__ import annotations

from math import log, sqrt
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Mapping

PRIOR_WORDS = 500  # the weight of the prior: this project's own choice, for voices of hundreds of words
LEAST_Z = 1.96  # what chance alone would reach one time in forty
FEWEST_TIMES = 3
MOST_WORDS = 12


class DistinctiveWord(NamedTuple):
    """A word, in small letters, how often the character says it, how often all others do, and its z-score."""

    word: str
    times: int
    by_others: int
    z: float


def distinctive_words(own: Mapping[str, int], all_counts: Mapping[str, int], total: int) -> tuple[DistinctiveWord, ...]:
    """The words that a voice says more than all others do, the most distinctive first.

    `own` are its words with how often each comes, `all_counts` those of everybody, it included, and `total` the words
    of all. Words said fewer than FEWEST_TIMES times, and those with a z-score under LEAST_Z, are left out.
    """
    own_total = sum(own.values())
    found: list[DistinctiveWord] = []
    for word, times in own.items():
        if times >= FEWEST_TIMES and times * total > (said := all_counts[word]) * own_total:
            z = weighted_log_odds(times, said - times, PRIOR_WORDS * said / total, own_total, total - own_total)
            if z >= LEAST_Z:
                found.append(DistinctiveWord(word, times, said - times, z))
    return tuple(sorted(found, key=lambda one: (-one.z, one.word))[:MOST_WORDS])


def weighted_log_odds(times: int, by_others: int, prior: float, own_total: int, others_total: int) -> float:
    """The z-score of a word that one side says `times` times of `own_total` words, and the other `by_others` of
    `others_total`, with a prior of so many times among PRIOR_WORDS words."""
    here, there = times + prior, by_others + prior
    rest_here, rest_there = own_total + PRIOR_WORDS - here, others_total + PRIOR_WORDS - there
    if rest_here <= 0 or rest_there <= 0:
        return 0.0
    return (log(here / rest_here) - log(there / rest_there)) / sqrt(1 / here + 1 / there)
