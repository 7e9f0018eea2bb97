"""The requests that the tests' server is at: a page that was left gives up what it asked for, and the server answers it
all the same, by when its test may be over and the database shut to it."""

from __future__ import annotations

from threading import Condition, Thread, current_thread, main_thread
from typing import Any

from django.core.signals import request_finished, request_started


class RequestsUnderWay:
    """Counts them by what Django tells of each, one to a thread; a test's own client asks in the main thread."""

    def __init__(self) -> None:
        self._at: set[Thread] = set()
        self._changed = Condition()
        request_started.connect(self._begin)
        request_finished.connect(self._end)

    def wait(self, seconds: float) -> bool:
        """Until each is answered; False where one is not by then."""
        with self._changed:
            return self._changed.wait_for(lambda: not any(thread.is_alive() for thread in self._at), seconds)

    def close(self) -> None:
        request_started.disconnect(self._begin)
        request_finished.disconnect(self._end)

    def _begin(self, **_told: Any) -> None:
        if current_thread() is not main_thread():
            with self._changed:
                self._at.add(current_thread())

    def _end(self, **_told: Any) -> None:
        with self._changed:
            self._at.discard(current_thread())
            self._changed.notify_all()
