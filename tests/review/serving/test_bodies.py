"""How much of a request's body is taken in, for how long, and from whom."""

from __future__ import annotations

import asyncio
from typing import TYPE_CHECKING, Any

import pytest

from review.serving.bodies import Bodies, BodyRefused, Limits, Refusal
from tests.loops import in_a_loop_of_its_own

if TYPE_CHECKING:
    from collections.abc import Awaitable, Callable

LIMITS = Limits(
    small=10, large=100, grace=0.2, slowest=10_000, held_by_all=200, held_by_one=120, drained_for=0.2
)  # fmt: skip
DECLARED = 80


def sender(*parts: bytes, pause: float = 0.0, ends: bool = True) -> Callable[[], Awaitable[Any]]:
    """Sends the parts one by one, each after a pause; then nothing for good, unless they end the body."""
    left = list(parts)

    async def receive() -> dict[str, object]:
        await asyncio.sleep(pause)
        if not left:
            await asyncio.sleep(60)
        part = left.pop(0)
        return {"type": "http.request", "body": part, "more_body": bool(left) or not ends}

    return receive


async def gone() -> Any:
    return {"type": "http.disconnect"}


def read(receive: Any, declared: int | None = None, most: int = 100, bodies: Bodies | None = None) -> bytes | Refusal:
    async def whole() -> bytes:
        with (bodies or Bodies(LIMITS)).room_for("192.0.2.1") as room:
            return await room.read(receive, declared, most)

    try:
        return in_a_loop_of_its_own(whole())
    except BodyRefused as refused:
        return refused.refusal


def test_a_body_comes_in_parts() -> None:
    assert read(sender(b"login=", b"ada")) == b"login=ada"


def test_one_that_says_it_is_too_large_is_refused_before_it_is_read() -> None:
    assert read(gone, declared=101) is Refusal.TOO_LARGE


def test_one_that_turns_out_too_large_is_refused_whatever_it_says() -> None:
    assert read(sender(*[b"x" * 60] * 2), declared=None) is Refusal.TOO_LARGE
    assert read(sender(*[b"x" * 60] * 2), declared=3) is Refusal.TOO_LARGE


def test_one_that_stops_is_refused() -> None:
    assert read(sender(b"login=", ends=False)) is Refusal.TOO_SLOW


def test_one_that_drips_is_refused() -> None:
    assert read(sender(*[b"x"] * 50, pause=0.01)) is Refusal.TOO_SLOW


def test_one_that_comes_slowly_and_steadily_is_taken() -> None:
    generous = Limits(small=10, large=1000, grace=0.5, slowest=500)
    assert read(sender(*[b"x" * 100] * 6, pause=0.1), most=1000, bodies=Bodies(generous)) == b"x" * 600


def test_one_whose_sender_goes_away_is_refused() -> None:
    assert read(gone) is Refusal.GONE


def held_while(others: dict[str, int], address: str, size: int) -> bytes | Refusal:
    """What becomes of a body while others, by their addresses, hold bodies of such sizes."""

    async def scenario() -> bytes:
        bodies = Bodies(LIMITS)
        rooms = [bodies.room_for(other) for other in others]
        for room, size_of_other in zip(rooms, others.values(), strict=True):
            await room.__enter__().read(sender(b"x" * size_of_other), None, 1000)
        with bodies.room_for(address) as room_of_its_own:
            return await room_of_its_own.read(sender(b"y" * size), None, 1000)

    try:
        return in_a_loop_of_its_own(scenario())
    except BodyRefused as refused:
        return refused.refusal


def test_no_more_is_held_at_once_than_the_bound_for_all() -> None:
    assert held_while({"192.0.2.2": 110, "192.0.2.3": 110}, "192.0.2.1", 50) is Refusal.TOO_MUCH_AT_ONCE


def test_no_more_is_held_at_once_than_the_share_of_one() -> None:
    assert held_while({"192.0.2.1": 110}, "192.0.2.1", 50) is Refusal.TOO_MUCH_AT_ONCE
    assert held_while({"192.0.2.2": 110}, "192.0.2.1", 50) == b"y" * 50


def test_a_small_body_is_never_turned_away_for_what_others_send() -> None:
    assert held_while({"192.0.2.2": 110, "192.0.2.3": 110}, "192.0.2.1", 10) == b"y" * 10


def test_what_was_held_is_given_back() -> None:
    async def one_after_another() -> None:
        bodies = Bodies(LIMITS)
        for _ in range(20):
            with bodies.room_for("192.0.2.1") as room:
                await room.read(sender(b"x" * 100), None, 100)

    in_a_loop_of_its_own(one_after_another())


@pytest.mark.parametrize("ends", [True, False])
def test_what_is_left_of_a_refused_body_passes_by_for_a_while(ends: bool) -> None:
    async def drained() -> float:
        loop = asyncio.get_running_loop()
        with Bodies(LIMITS).room_for("192.0.2.1") as room:
            receive = sender(*[b"x" * 80] * 5, ends=ends)
            with pytest.raises(BodyRefused):
                await room.read(receive, None, 100)
            started = loop.time()
            await room.drain(receive)
            return loop.time() - started

    assert in_a_loop_of_its_own(drained()) < 10 * LIMITS.drained_for
