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

    Of the words of a stretch some are `seen` for the first time, and all others are there `again`: the share is at the
    factor size or under it where the first are to the second as FACTOR_SIZE to what it lacks of 100, at most.
    """
    of_seen, of_again = 100 - FACTOR_SIZE, FACTOR_SIZE
    factors = again = 0
    seen: set[str] = set()
    add = seen.add
    for word in words:
        if word not in seen:
            add(word)
        else:
            again += 1
            if again * of_again >= len(seen) * of_seen:
                factors += 1
                again = 0
                seen.clear()
    length = len(seen) + again
    left = (1 - len(seen) / length) / (1 - FACTOR_SIZE / 100) if length else 0.0
    return factors + left
