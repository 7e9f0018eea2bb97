"""Which servers run on a data folder: each has a file there and a lock on it, which ends with its process, however that
ends. A file without one says nothing."""

from __future__ import annotations

import os
import sys
import time
from contextlib import ExitStack, contextmanager, suppress
from typing import IO, TYPE_CHECKING

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

NAMED = "running-"  # and the port
LOCKED_BYTE = 1 << 20  # far behind the words: on Windows nobody else can read what is locked
STOPS_WITHIN = 3.0  # seconds after its port is free; somebody who looks who is there has the lock for less
TRIES_EVERY = 0.05  # seconds


def servers_on(folder: Path) -> dict[int, str]:
    """Where each server that runs on the folder is, by its port; none where the system cannot tell."""
    found = {}
    for file in sorted(folder.glob(f"{NAMED}*")):
        with suppress(OSError, ValueError), file.open("rb+") as opened:
            port, words = int(file.name.removeprefix(NAMED)), opened.read().decode()
            if not _lock(opened):
                found[port] = words or f"port {port}"
    return found


@contextmanager
def known_to_run(folder: Path, port: int, address: str) -> Iterator[list[str]]:
    """Let servers that start on the folder know of this one, as long as it lasts; gives where the others are by now.

    It stands in the way of no start: where the file cannot be written, or stays locked, as by a server at the same port
    of another address, nobody knows of this one.
    """
    file = folder / f"{NAMED}{port}"
    with ExitStack() as held:
        is_ours = False
        with suppress(OSError):
            opened = _open_locked(file)
            if is_ours := opened is not None:
                held.callback(_take_away, file, opened)
                opened.truncate(0)
                opened.write(f"{address} (process {os.getpid()})".encode())
        yield [where for other, where in servers_on(folder).items() if not is_ours or other != port]


def _open_locked(file: Path) -> IO[bytes] | None:
    """The file, made where there is none, with a lock on it; None where somebody else keeps that for longer than a
    server does that stops."""
    until = time.monotonic() + STOPS_WITHIN
    while True:
        opened = file.open("ab+", buffering=0)
        if _lock(opened) and _is_at(file, opened):
            return opened
        opened.close()
        if time.monotonic() >= until:
            return None
        time.sleep(TRIES_EVERY)


def _is_at(file: Path, opened: IO[bytes]) -> bool:
    """Whether the file that was opened is there still, and was not taken away by a server that stopped meanwhile."""
    try:
        with file.open("rb") as there:
            return os.path.sameopenfile(there.fileno(), opened.fileno())
    except FileNotFoundError:
        return False


def _take_away(file: Path, opened: IO[bytes]) -> None:
    """Take a file away while it is locked, or that of a server which starts now could go in its place. Windows takes
    none away that is open, whoever has it open, so there it is closed first."""
    with opened, suppress(OSError):
        if sys.platform == "win32":
            opened.close()
        file.unlink()


def _lock(opened: IO[bytes]) -> bool:
    """Lock a file until it is closed, or its process ends; False where somebody else has."""
    try:
        if sys.platform == "win32":
            opened.seek(LOCKED_BYTE)
            msvcrt.locking(opened.fileno(), msvcrt.LK_NBLCK, 1)
        else:
            fcntl.flock(opened.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    return True
