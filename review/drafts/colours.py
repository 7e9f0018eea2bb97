"""Revision colours: which comes after which in a production's order.

The order usual in the trade, and that its round begins again as Double White, are common practice; houses differ, so
that each production has an order of its own.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

ROUNDS = ("", "Double", "Triple", "Quadruple", "Quintuple")


def colour_after(used: Iterable[str], order: Sequence[str]) -> str:
    """The colour after the first of the used ones, latest first, that the order has; its first where it has none.

    When the order ends its round begins again, as Double White and so on. Case makes no difference.
    """
    rounds = [colour for colours in rounds_of(order) for colour in colours]
    place_of = {colour.casefold(): place for place, colour in reversed(list(enumerate(rounds)))}
    latest = next((place_of[colour.casefold()] for colour in used if colour.casefold() in place_of), -1)
    return rounds[min(latest + 1, len(rounds) - 1)]


def rounds_of(order: Sequence[str]) -> list[list[str]]:
    """The colours round by round; a name that the order itself has stands only where it has it."""
    own = {colour.casefold() for colour in order}
    later = [[f"{word} {colour}" for colour in order] for word in ROUNDS[1:]]
    return [list(order), *([name for name in colours if name.casefold() not in own] for colours in later)]


def round_with(colour: str, order: Sequence[str]) -> list[str]:
    """The round of colours that has this one; the first where none has."""
    rounds = rounds_of(order)
    return next((each for each in rounds if colour in each), rounds[0])
