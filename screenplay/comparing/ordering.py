"""What stays in order where things moved: of things with a place each, those that keep their order."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from itertools import islice
from operator import le, lt
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence


def in_order(places: Sequence[int], weights: Sequence[float] | None = None, *, may_share: bool = False) -> list[int]:
    """Positions in `places`, rising, of those that weigh most together and whose places rise too.

    Without weights that is the longest increasing subsequence. Weights are above nothing. With `may_share` several may
    have one place. Of chains as heavy the one that ends lowest counts. Takes time in proportion to n log n.
    """
    if all(map(le if may_share else lt, places, islice(places, 1, None))):
        return list(range(len(places)))
    find = bisect_right if may_share else bisect_left
    ends: list[int] = []  # the places that the best chains end at, rising, with
    totals: list[float] = []  # what each weighs, rising too, and
    last: list[int] = []  # the position of its last
    before = [-1] * len(places)
    for at, place in enumerate(places):
        upto = find(ends, place)
        before[at] = last[upto - 1] if upto else -1
        total = (weights[at] if weights is not None else 1) + (totals[upto - 1] if upto else 0)
        beaten = upto
        while beaten < len(ends) and totals[beaten] <= total:
            beaten += 1
        if beaten > upto or beaten == len(ends) or ends[beaten] > place:
            ends[upto:beaten], totals[upto:beaten], last[upto:beaten] = [place], [total], [at]
    chain: list[int] = []
    at = last[-1] if last else -1
    while at >= 0:
        chain.append(at)
        at = before[at]
    return chain[::-1]
