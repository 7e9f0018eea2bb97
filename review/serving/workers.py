"""The processes that serve: how many, what each may hold, and what happens when one dies."""

from __future__ import annotations

import multiprocessing
import signal
import sys
import time
from typing import TYPE_CHECKING

from granian import Granian
from granian.constants import HTTPModes, Interfaces
from granian.http import HTTP1Settings
from granian.log import LogLevels

from review.serving.loading import FINISHING_LASTS, load_worker

if TYPE_CHECKING:
    from collections.abc import Callable

WORKERS = 2  # while one starts again, or works on something long, the other serves
CONNECTIONS = 4096  # to each worker at one time; one more waits until another ends
HEADERS_LAST = 10_000  # milliseconds within which a request's headers must be here, and for which a silent line is kept
MOST_OF_HEADERS = 64 * 1024  # bytes
STARTED_WELL = 60.0  # seconds after which a server that stops has not stopped for how it was started
PAUSES = (1, 2, 4, 8)  # seconds before each further start of one that keeps stopping

GIVEN_UP = "The server stopped five times within a minute of its start. What it said of that stands above."


def serve_until_stopped(host: str, port: int) -> None:
    """Serve in processes that start afresh, as they do on every system, and so read what was set meanwhile.

    The server starts a worker again that has died, and gives up only where they keep dying; then it is started again
    from here. Exits with 1, and a sentence, where that does not help either.
    """
    multiprocessing.set_start_method("spawn", force=True)
    raise_file_limit()
    keep_starting(lambda: serve(host, port))


def keep_starting(start: Callable[[], None], wait: Callable[[float], object] = time.sleep) -> None:
    """Start the server, and start it again as long as it dies; it ends by itself when it is told to stop."""
    pauses = list(PAUSES)
    while True:
        started = time.monotonic()
        try:
            start()
        except SystemExit:
            answer_signals_as_ever()
            if time.monotonic() - started > STARTED_WELL:
                pauses = list(PAUSES)
            if not pauses:
                sys.exit(GIVEN_UP)
            wait(pauses.pop(0))
        else:
            return


def serve(host: str, port: int) -> None:
    """Serve until told to stop. Raises SystemExit when its workers die as fast as they are started."""
    Granian(
        "project.asgi:application",
        address=host,
        port=port,
        interface=Interfaces.ASGINL,
        workers=WORKERS,
        respawn_failed_workers=True,
        workers_kill_timeout=FINISHING_LASTS,
        http=HTTPModes.http1,
        http1_settings=HTTP1Settings(header_read_timeout=HEADERS_LAST, max_buffer_size=MOST_OF_HEADERS),
        websockets=False,
        backpressure=CONNECTIONS,
        log_level=LogLevels.error,  # its warnings are for those who choose its settings
        log_access=False,  # addresses may hold a sign-in link's token
    ).serve(target_loader=load_worker)


def answer_signals_as_ever() -> None:
    """Let Ctrl-C end the waiting between two starts: the server that stopped has left its own answer to it behind."""
    signal.signal(signal.SIGINT, signal.default_int_handler)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)


def raise_file_limit() -> None:
    """Let a worker have a file for each of its connections, as far as this account may."""
    try:
        import resource  # noqa: PLC0415 - not every system has it
    except ImportError:
        return
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    wanted = 2 * CONNECTIONS
    if soft != resource.RLIM_INFINITY and soft < wanted:
        most = wanted if hard == resource.RLIM_INFINITY else min(wanted, hard)
        resource.setrlimit(resource.RLIMIT_NOFILE, (most, hard))
