"""Which servers run on a data folder: each has a file there and a lock on it, which ends with its process, however that
ends. A file without one says nothing."""

from __future__ import annotations

import os
import sys
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

    It stands in the way of no start: where the file cannot be written, or is locked, nobody knows of this one.
    """
    file = folder / f"{NAMED}{port}"
    with ExitStack() as held:
        is_ours = False
        with suppress(OSError):
            opened = held.enter_context(file.open("ab+", buffering=0))
            if is_ours := _lock(opened):
                held.callback(_take_away, file)
                opened.truncate(0)
                opened.write(f"{address} (process {os.getpid()})".encode())
        yield [where for other, where in servers_on(folder).items() if not is_ours or other != port]


def _take_away(file: Path) -> None:
    with suppress(OSError):  # as on Windows, which takes no file away that is open
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
