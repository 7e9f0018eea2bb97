"""Work that nobody waits for: it is done once the answer is on its way, in a thread of its own.

So an answer takes as long whether there is such work or not, and tells nobody which it was.
"""

from __future__ import annotations

import logging
from concurrent.futures import ThreadPoolExecutor
from contextvars import copy_context
from threading import BoundedSemaphore
from typing import TYPE_CHECKING

from django.conf import settings
from django.db import close_old_connections, connections

if TYPE_CHECKING:
    from collections.abc import Callable

MOST_WAITING = 200  # pieces of work; what comes beyond them is left undone, and said so in the terminal

logger = logging.getLogger(__name__)
_thread = ThreadPoolExecutor(1, thread_name_prefix="afterwards")
_waiting = BoundedSemaphore(MOST_WAITING)


def afterwards(work: Callable[[], object]) -> None:
    """Do it soon, knowing whom it is done for as now. What goes wrong in it is said in the terminal.

    Where the setting AFTERWARDS_AT_ONCE says so, as in tests, it is done before this returns.
    """
    if settings.AFTERWARDS_AT_ONCE:
        work()
        return
    if not _waiting.acquire(blocking=False):
        logger.error("Too much was waiting to be done afterwards, so some of it was left undone.")
        return
    _thread.submit(copy_context().run, _do, work)


def _do(work: Callable[[], object]) -> None:
    try:
        close_old_connections()
        work()
    except Exception:
        logger.exception("Something could not be done afterwards.")
    finally:
        connections.close_all()
        _waiting.release()
