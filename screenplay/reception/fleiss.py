"""How far readers agree, beyond what chance would bring about: Fleiss' kappa, and what it means in words.

Fleiss 1971, "Measuring nominal scale agreement among many raters", Psychological Bulletin 76, 378-382. The words are by
the bands of Landis and Koch 1977, "The measurement of observer agreement for categorical data", Biometrics 33, 159-174,
who call their divisions arbitrary.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

FEWEST_RATERS = 3  # of two people a figure says no more than their two answers do
FEWEST_THINGS = 2  # of one thing alone, chance and agreement are the same figure

# The highest kappa of each band, and what it is called here.
BANDS = (
    (0.0, "no more than chance would bring about"),
    (0.2, "hardly more than chance would bring about"),
    (0.4, "somewhat"),
    (0.6, "by and large"),
    (0.8, "well"),
    (1.0, "almost wholly"),
)


@dataclass(frozen=True, slots=True)
class Agreement:
    """How far raters agree on things. `kappa` is None where there are too few of either, or where everybody said the
    same of everything, so that there is nothing to set against chance: `is_whole` is true then."""

    kappa: float | None
    raters: int
    things: int
    is_whole: bool = False

    @property
    def words(self) -> str:
        """A sentence for the writer; empty where nothing can be said."""
        if self.is_whole:
            return f"All {self.raters} say the same throughout."
        return "" if self.kappa is None else f"They agree {agreement_in_words(self.kappa)}."


def fleiss_kappa(counts: Sequence[Sequence[int]]) -> float | None:
    """Fleiss' kappa of a table with a row for each thing and a column for each category: how many raters put the thing
    there. 1 is full agreement, 0 what chance would bring about. None where all ratings are of one category.

    Raises ValueError unless every row adds up to the same number of raters, two at least.
    """
    raters = {sum(row) for row in counts}
    if len(raters) != 1 or (n := raters.pop()) < 2:
        raise ValueError("Each thing is rated by the same number of raters, two at least.")
    things = len(counts)
    shares: list[float] = [sum(column) / (things * n) for column in zip(*counts, strict=True)]
    observed: float = sum((sum(count * count for count in row) - n) / (n * (n - 1)) for row in counts) / things
    by_chance = sum(share * share for share in shares)
    if max(shares) == 1:
        return None
    return (observed - by_chance) / (1 - by_chance)


def agreement_in_words(kappa: float) -> str:
    """What a kappa means, as it goes on after "They agree"."""
    return next(words for most, words in BANDS if kappa <= most or most == 1.0)


def agreement(ratings: Mapping[str, Mapping[int, str]]) -> Agreement:
    """How far raters agree: for each rater, the category that each thing was put in.

    Fleiss' kappa wants every thing rated by the same raters: the things count that all of them rated.
    """
    rated = list(ratings.values())
    shared = [thing for thing in rated[0] if all(thing in each for each in rated)] if rated else []
    if len(rated) < FEWEST_RATERS or len(shared) < FEWEST_THINGS:
        return Agreement(None, len(rated), len(shared))
    categories = sorted({each[thing] for each in rated for thing in shared})
    counted = [Counter(each[thing] for each in rated) for thing in shared]
    table = [[count[category] for category in categories] for count in counted]
    return Agreement(fleiss_kappa(table), len(rated), len(shared), is_whole=len(categories) == 1)
