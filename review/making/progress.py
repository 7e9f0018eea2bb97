"""How far something is that is being made: told by whoever works on it, and nobody's business where nothing waits."""

from __future__ import annotations

import time
from contextlib import contextmanager
from contextvars import ContextVar
from typing import TYPE_CHECKING

from django.db import connection
from django.utils import timezone

from review.making.models import MOST_WORDS, Making, sees_as

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

AT_MOST_EVERY = 0.3  # seconds


class _LastTold:
    """What was last told of a making, and when."""

    def __init__(self, making: Making) -> None:
        self.key = making.pk
        self.doing, self.at = "", 0.0


_current: ContextVar[_LastTold | None] = ContextVar("making", default=None)


@contextmanager
def making_of(making: Making) -> Iterator[None]:
    """What is told within is told of this one, and work on it begins: for its owner as they stand now."""
    now, seen_as = timezone.now(), sees_as(making.by)
    Making.objects.filter(pk=making.pk).update(begun_at=now, heard_at=now, **seen_as)
    token = _current.set(_LastTold(making))
    try:
        yield
    finally:
        _current.reset(token)


def tell(doing: str, done: int = 0, total: int = 0) -> None:
    """Say what is being done, and how far that is, if somebody waits for it.

    Within a transaction nobody could read it before its end, and so nothing is said.
    """
    told = _current.get()
    if told is None or connection.in_atomic_block:
        return
    now = time.monotonic()
    if doing == told.doing and now - told.at < AT_MOST_EVERY:
        return
    told.doing, told.at = doing, now
    here = {"doing": doing[:MOST_WORDS], "done": done, "total": total, "heard_at": timezone.now()}
    Making.objects.filter(pk=told.key).update(**here)


def teller(doing: str) -> Callable[[int, int], None]:
    """Tells how far something is, for a function that knows nothing of this."""
    return lambda done, total: tell(doing, done, total)
