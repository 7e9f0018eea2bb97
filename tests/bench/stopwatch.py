"""Processor time of a piece of work in this process, its collector run before and not timed.

What else a machine does only ever adds to a time, so that the least of several is the truest. Tries end where the bar
is kept: what keeps it with ease is measured once or twice, and what does not has all its tries.
"""

from __future__ import annotations

import gc
from time import process_time
from typing import TYPE_CHECKING

from review.serving.deep_calls import in_one_piece

if TYPE_CHECKING:
    from collections.abc import Callable

WITH_EASE = 0.75  # of the bar


@in_one_piece
def seconds(act: Callable[[], object]) -> float:
    """How long the act takes, once."""
    gc.collect()
    start = process_time()
    act()
    return process_time() - start


def least_seconds(*acts: Callable[[], object], tries: int = 3) -> list[float]:
    """The least time of each act, done in turns, so that what else the machine does meets them all."""
    turns = [[seconds(act) for act in acts] for _ in range(tries)]
    return [min(times) for times in zip(*turns, strict=True)]


def least_until(act: Callable[[], object], *, enough: float, tries: int = 3) -> float:
    """The least time of an act; tries end with one that took no more than enough."""
    least = seconds(act)
    for _ in range(tries - 1):
        if least <= enough:
            break
        least = min(least, seconds(act))
    return least


def least_ratio(ours: Callable[[], object], theirs: Callable[[], object], *, enough: float, tries: int = 12) -> float:
    """The least time of ours as a share of the least of theirs, done in turns."""
    return ratio_of_least(lambda: seconds(ours), lambda: seconds(theirs), enough=enough, tries=tries)


def ratio_of_least(
    our_seconds: Callable[[], float], their_seconds: Callable[[], float], *, enough: float, tries: int = 12
) -> float:
    """The same of two measurings.

    The first try, in which theirs is measured on both sides of ours, is the last where the bar is kept with ease; those
    after it end where the share is no more than enough.
    """
    their_time, our_time = their_seconds(), our_seconds()
    their_time = min(their_time, their_seconds())
    if our_time <= WITH_EASE * enough * their_time:
        return our_time / their_time
    for _ in range(tries - 1):
        our_time, their_time = min(our_time, our_seconds()), min(their_time, their_seconds())
        if our_time <= enough * their_time:
            break
    return our_time / their_time


def least_growth(
    long: Callable[[], object], short: Callable[[], object], *, longer: float, enough: float, tries: int = 12
) -> float:
    """A long act's least time beside that of a short one, as a share of how many times as long it is.

    At first the short one's time is the least of a few, which is the strictest. Where that is not enough, it is done as
    often as the long one is longer, so that both take the same while and meet the same other work on the machine; tries
    go on until one is.
    """
    times = round(longer)

    def short_ones() -> None:
        for _ in range(times):
            short()

    growth = seconds(long) / min(seconds(short) for _ in range(3)) / longer
    for _ in range(tries - 1):
        if growth <= enough:
            break
        growth = min(growth, seconds(long) / seconds(short_ones) * times / longer)
    return growth
