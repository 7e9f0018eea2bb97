"""What a process loads when it starts, and has as long as it lives; and how a worker ends."""

from __future__ import annotations

import atexit
import gc
import logging
import multiprocessing
import os
import signal
import sys
import time
from contextlib import contextmanager
from pkgutil import resolve_name
from threading import Thread
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator
    from multiprocessing.process import BaseProcess

FINISHING_LASTS = 10  # seconds that a worker gets to finish what it has begun when the server stops


@contextmanager
def loaded_for_good() -> Iterator[None]:
    """Look for no garbage in what is loaded within: not meanwhile, which takes a sixth of the time, nor ever after,
    when each look would hold up whoever waits for a page."""
    gc.disable()
    try:
        yield
    finally:
        gc.freeze()
        gc.enable()


def load_application(named: str) -> Any:
    """What a worker serves, named as in "project.asgi:application"."""
    with loaded_for_good():
        return resolve_name(named)


def load_worker(named: str) -> Any:
    """What a worker serves, in the process that is to be one: having finished what it had begun, it leaves at once."""
    if server := multiprocessing.parent_process():
        Thread(target=_end_after, args=(server,), daemon=True).start()
    atexit.register(_leave)  # before the application registers anything, and so called after all that is its own
    try:
        return load_application(named)
    except BaseException:
        atexit.unregister(_leave)  # it ends as a process that failed
        raise


def _end_after(server: BaseProcess) -> None:
    """End once the server has, even where that was killed and told nobody: a worker that is left alone would keep the
    port from the next one."""
    server.join()
    os.kill(os.getpid(), signal.SIGTERM)  # as the server would have stopped it
    time.sleep(FINISHING_LASTS)
    os._exit(1)


def _leave() -> None:
    """End the process without taking the interpreter down first: the server's own threads still come back into it, and
    up to Python 3.13 each that does so by then is unwound, through code that cannot be, and aborts the process with an
    error in the terminal."""
    try:
        logging.shutdown()
        for stream in filter(None, (sys.stdout, sys.stderr)):
            stream.flush()
    finally:
        os._exit(0)
