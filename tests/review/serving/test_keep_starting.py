"""A server that dies is started again, and not for ever."""

from __future__ import annotations

import pytest

from review.serving.workers import PAUSES, keep_starting


class Server:
    """Dies so many times, then serves until it is told to stop."""

    def __init__(self, deaths: int) -> None:
        self.deaths, self.starts = deaths, 0

    def start(self) -> None:
        self.starts += 1
        if self.starts <= self.deaths:
            raise SystemExit(1)


def test_one_that_was_told_to_stop_is_not_started_again() -> None:
    server = Server(deaths=0)
    keep_starting(server.start, wait=lambda pause: pytest.fail("It waited."))
    assert server.starts == 1


def test_one_that_died_is_started_again_after_a_growing_pause() -> None:
    server, pauses = Server(deaths=3), list[float]()
    keep_starting(server.start, wait=pauses.append)
    assert server.starts == 4
    assert pauses == sorted(set(pauses)) == list(PAUSES[:3])


def test_one_that_dies_each_time_is_given_up_with_a_sentence() -> None:
    server = Server(deaths=100)
    with pytest.raises(SystemExit, match="stopped five times"):
        keep_starting(server.start, wait=lambda pause: None)
    assert server.starts == 5
