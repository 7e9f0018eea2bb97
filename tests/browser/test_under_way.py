"""That a test's end waits for what the server is still at."""

from __future__ import annotations

from threading import Event, Thread
from typing import TYPE_CHECKING

from django.core.signals import request_finished, request_started

if TYPE_CHECKING:
    from tests.browser.under_way import RequestsUnderWay


def test_what_was_asked_is_waited_for_until_it_is_answered(under_way: RequestsUnderWay) -> None:
    asked, answered = Event(), Event()

    def serve() -> None:
        request_started.send(sender=None)
        asked.set()
        answered.wait(5)
        request_finished.send(sender=None)

    server = Thread(target=serve)
    server.start()
    asked.wait(5)
    assert not under_way.wait(0.01)
    answered.set()
    assert under_way.wait(5)
    server.join()
