"""How varied a voice's words are: MTLD, the mean number of words over which most of them are new.

Source: McCarthy, Jarvis 2010, "MTLD, vocd-D, and HD-D", Behavior Research Methods 42.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

FACTOR_SIZE = 0.72  # the share of different words at which a stretch ends: the paper's


def mtld(words: Sequence[str]) -> float | None:
    """The measure of textual lexical diversity, in words: the mean of its run forwards and its run backwards.

    None where no word comes twice: there is no stretch to measure.
    """
    forwards, backwards = _factors(words), _factors(words[::-1])
    if not forwards or not backwards:
        return None
    return (len(words) / forwards + len(words) / backwards) / 2


def _factors(words: Sequence[str]) -> float:
    """How many stretches there are within which the share of different words falls to the factor size; what is left at
    the end counts for the part of the way that it has come."""
    factors = 0
    start = -1
    seen: set[str] = set()
    add = seen.add
    for at, word in enumerate(words):
        if word not in seen:
            add(word)
        elif len(seen) <= FACTOR_SIZE * (at - start):
            factors += 1
            start = at
            seen.clear()
    length = len(words) - 1 - start
    left = (1 - len(seen) / length) / (1 - FACTOR_SIZE) if length else 0.0
    return factors + left
