"""What is taken in of a request's body before anyone works on it: so many bytes, in so much time.

A body is read here by the event loop, which waits for many at once, and never by a worker. It is kept in memory, within
a stated bound for all of them together and a share of it for each address.
"""

from __future__ import annotations

import asyncio
from collections import Counter
from contextlib import contextmanager
from dataclasses import dataclass
from enum import Enum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import AsyncIterator, Iterator

    from asgiref.typing import ASGIReceiveCallable

KIB = 1024
MIB = 1024 * KIB


class Refusal(Enum):
    """Why a body is not taken in."""

    TOO_LARGE = "too large"
    TOO_SLOW = "too slow"
    TOO_MUCH_AT_ONCE = "too much at once"
    GONE = "gone"  # whoever sent it went away before its end


class BodyRefused(Exception):
    """The body is not taken in; `refusal` says why."""

    def __init__(self, refusal: Refusal) -> None:
        super().__init__(refusal.value)
        self.refusal = refusal


@dataclass(frozen=True, slots=True)
class Limits:
    """Bytes and seconds. A body is cut off once it has taken longer than `grace` and what it brought by then pays for.

    Beyond `small` a body counts into `held_by_all` and `held_by_one`, the most that is held at one time of everybody's
    and of one address's; below it none is ever turned away for what others send.
    """

    small: int = 64 * KIB
    large: int = 12 * MIB
    grace: float = 15.0
    slowest: int = 16 * KIB  # bytes a second
    held_by_all: int = 128 * MIB
    held_by_one: int = 32 * MIB
    drained_for: float = 10.0  # a browser shows the answer only once it has sent all it wanted to


class Bodies:
    """Reads bodies within limits."""

    def __init__(self, limits: Limits) -> None:
        self.limits = limits
        self._held: Counter[str] = Counter()

    @contextmanager
    def room_for(self, address: str) -> Iterator[Room]:
        """Somewhere to hold a body until it has been worked on."""
        room = Room(self.limits, self._held, address)
        try:
            yield room
        finally:
            room.give_back()


class Room:
    """What is held of one body, and how much of the bound it takes."""

    def __init__(self, limits: Limits, held: Counter[str], address: str) -> None:
        self._limits, self._held, self._address = limits, held, address
        self._taken = 0
        self._ended = False  # whether all of the body has come

    def give_back(self) -> None:
        self._held[self._address] -= self._taken
        if not self._held[self._address]:
            del self._held[self._address]
        self._taken = 0

    def _take(self, size: int) -> None:
        beyond = max(0, size - self._limits.small) - self._taken
        if beyond <= 0:
            return
        if (
            self._held.total() + beyond > self._limits.held_by_all
            or self._held[self._address] + beyond > self._limits.held_by_one
        ):
            raise BodyRefused(Refusal.TOO_MUCH_AT_ONCE)
        self._held[self._address] += beyond
        self._taken += beyond

    async def read(self, receive: ASGIReceiveCallable, declared: int | None, most: int) -> bytes:
        """The whole body, of `most` bytes at the most. Raises BodyRefused.

        `declared` is what its sender says it will have, if they say so.
        """
        loop = asyncio.get_running_loop()
        started = loop.time()
        parts: list[bytes] = []
        size = 0
        try:
            async with asyncio.timeout_at(started + self._limits.grace) as patience:
                if declared is not None and declared > most:
                    raise BodyRefused(Refusal.TOO_LARGE)
                async for part in self._parts(receive):
                    size += len(part)
                    if size > most:
                        raise BodyRefused(Refusal.TOO_LARGE)
                    self._take(size)
                    parts.append(part)
                    patience.reschedule(started + self._limits.grace + size / self._limits.slowest)
        except TimeoutError:
            raise BodyRefused(Refusal.TOO_SLOW) from None
        return b"".join(parts)

    async def drain(self, receive: ASGIReceiveCallable) -> None:
        """Let what is still coming pass by for a while, holding none of it."""
        try:
            async with asyncio.timeout(self._limits.drained_for):
                async for _ in self._parts(receive):
                    pass
        except (TimeoutError, BodyRefused):
            return

    async def _parts(self, receive: ASGIReceiveCallable) -> AsyncIterator[bytes]:
        """The parts of a body as they come. Raises BodyRefused where its sender goes away before its end."""
        while not self._ended:
            event = await receive()
            if event["type"] != "http.request":
                raise BodyRefused(Refusal.GONE)
            self._ended = not event.get("more_body", False)
            yield event.get("body", b"")
