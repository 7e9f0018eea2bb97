"""Work that takes long is done apart: by a process of its own, behind those that serve readers, and within bounds.

The process runs the same Django. It gets a request whole, and gives its answer whole, through its standard input and
output. It is started when there is something for it, stands back for the others where the system lets it, and is ended
where it takes too long or too much memory: then whatever it had begun is undone by the database, as it had not ended.
"""

from __future__ import annotations

import os
import pickle
import queue
import signal
import subprocess
import sys
from contextlib import suppress
from threading import Thread, Timer
from typing import IO, TYPE_CHECKING, BinaryIO

from django.core.signals import got_request_exception
from django.core.wsgi import get_wsgi_application

from review.serving.answers import WholeAnswer, answer_of
from review.serving.loading import loaded_for_good

if TYPE_CHECKING:
    from wsgiref.types import WSGIEnvironment

MOST_SECONDS = 180.0
MOST_MEMORY = 2 * 1024**3  # bytes of addresses, of which it uses a part
STANDS_BACK_BY = 5  # how much less of the processor it gets than the others: `nice`

TOLD = (str, int, bool, tuple)  # what of a request can be handed over


class GivenUp(Exception):
    """The work took too long, or more memory than it may, and nothing came of it."""


class Apart:
    """The process, as seen by those that hand it work. One request is worked on at a time; callers see to that."""

    def __init__(self, folder: str, most_seconds: float = MOST_SECONDS) -> None:
        self._folder, self._most_seconds = folder, most_seconds
        self._process: subprocess.Popen[bytes] | None = None

    def answer(self, environ: WSGIEnvironment, body: bytes) -> WholeAnswer:
        """What Django answers there. Raises GivenUp."""
        process = self._started()
        patience = Timer(self._most_seconds, process.kill)
        patience.start()
        try:
            told = {name: value for name, value in environ.items() if isinstance(value, TOLD)}
            _send(process.stdin, (told, body))
            answer: WholeAnswer = pickle.load(_pipe(process.stdout))  # noqa: S301 - a process of our own wrote it
        except (OSError, EOFError, pickle.UnpicklingError) as gone:
            self.end()
            raise GivenUp from gone
        finally:
            patience.cancel()
        return answer

    def _started(self) -> subprocess.Popen[bytes]:
        if self._process is None or self._process.poll() is not None:
            command = [sys.executable, "-m", __name__]
            self._process = subprocess.Popen(  # noqa: S603 - every word of it is ours
                command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, cwd=self._folder
            )
        return self._process

    def end(self) -> None:
        """End the process; the next request starts another."""
        if self._process is not None:
            self._process.kill()
            self._process.wait()
            self._process = None


def _pipe(pipe: IO[bytes] | None) -> IO[bytes]:
    if pipe is None:
        raise EOFError
    return pipe


def _send(pipe: IO[bytes] | None, what: object) -> None:
    stream = _pipe(pipe)
    pickle.dump(what, stream)
    stream.flush()


def main() -> None:
    """Answer one request after another, until nobody is left who asks."""
    answers_to = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())  # whatever is printed goes where it can be read
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for those that hand work over: they see it finished
    keep_within_bounds()
    with loaded_for_good():
        application = get_wsgi_application()
    got_request_exception.connect(end_for_want_of_memory)
    asked: queue.Queue[tuple[WSGIEnvironment, bytes]] = queue.Queue()
    Thread(target=listen, args=(sys.stdin.buffer, asked), daemon=True).start()
    while True:
        environ, body = asked.get()
        environ["wsgi.errors"] = sys.stderr
        _send(answers_to, answer_of(application, environ, body))


def listen(stream: BinaryIO, asked: queue.Queue[tuple[WSGIEnvironment, bytes]]) -> None:
    """Take in what is asked; once nobody is there to take an answer, end, whatever is being worked on."""
    while True:
        try:
            asked.put(pickle.load(stream))  # noqa: S301 - a process of our own wrote it
        except EOFError:
            os._exit(0)


def keep_within_bounds() -> None:
    """Stand back for the others, and have no more memory than one may, as far as the system knows of either."""
    if hasattr(os, "nice"):
        os.nice(STANDS_BACK_BY)
    try:
        import resource  # noqa: PLC0415 - not every system has it
    except ImportError:
        return
    with suppress(OSError, ValueError):  # one that has less already, or does not count them
        resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))


def end_for_want_of_memory(**told: object) -> None:
    """A request that failed for want of memory has no answer but that it was given up."""
    if isinstance(sys.exception(), MemoryError):
        os._exit(1)


if __name__ == "__main__":
    main()
