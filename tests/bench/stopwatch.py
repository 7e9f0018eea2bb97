"""Processor time of a piece of work in this process, its collector run before and not timed."""

from __future__ import annotations

import gc
from time import process_time
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable


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


def least_ratio(ours: Callable[[], object], theirs: Callable[[], object], *, enough: float, tries: int = 12) -> float:
    """The least time of ours as a share of the least of theirs, done in turns.

    Tries, two at least, end where the share is no more than enough, for what else the machine does only adds to a time.
    """
    our_time, their_time = least_seconds(ours, theirs, tries=2)
    for _ in range(tries - 2):
        if our_time <= enough * their_time:
            break
        our_time, their_time = min(our_time, seconds(ours)), min(their_time, seconds(theirs))
    return our_time / their_time
