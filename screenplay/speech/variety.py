"""How varied a voice's words are: MTLD, the mean number of words over which most of them are new.

Source: McCarthy, Jarvis 2010, "MTLD, vocd-D, and HD-D", Behavior Research Methods 42.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

FACTOR_SIZE = 72  # the share of different words at which a stretch ends, in hundredths: the paper's


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
    the end counts for the part of the way that it has come.

    The share is at the factor size or under it where 100 times the different words are FACTOR_SIZE times all words at
    most: `over` is the second less the first, which a new word makes less, and any other word more.
    """
    factors = over = 0
    seen: set[str] = set()
    add = seen.add
    for word in words:
        if word not in seen:
            add(word)
            over -= 100 - FACTOR_SIZE
        else:
            over += FACTOR_SIZE
            if over >= 0:
                factors += 1
                over = 0
                seen.clear()
    length = (over + 100 * len(seen)) // FACTOR_SIZE
    left = (1 - len(seen) / length) / (1 - FACTOR_SIZE / 100) if length else 0.0
    return factors + left
