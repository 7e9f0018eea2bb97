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


def least_ratio(ours: Callable[[], object], theirs: Callable[[], object], tries: int = 3) -> float:
    """The least time of ours as a share of the least of theirs."""
    our_time, their_time = least_seconds(ours, theirs, tries=tries)
    return our_time / their_time
