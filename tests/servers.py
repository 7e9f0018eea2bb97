"""Starts a real server in a process of its own, and reads what it prints and serves."""

from __future__ import annotations

import os
import re
import socket
import sqlite3
import subprocess
import sys
import tempfile
import threading
import urllib.error
import urllib.request
from contextlib import closing, contextmanager
from pathlib import Path
from queue import Empty, Queue
from typing import IO, TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Iterator

MANAGE = Path(__file__).resolve().parents[1] / "manage.py"
NOT_HANDED_ON = {"DATABASE_URL", "SECRET_KEY", "DEBUG", "PYTHONDONTWRITEBYTECODE"}
PATIENCE = 60  # seconds: far more than a start takes, so that only a server that never starts fails


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def environment(folder: Path, **more: str) -> dict[str, str]:
    """What a server is told: nothing of what this run was told. What one start compiles is there for the others."""
    kept = {name: value for name, value in os.environ.items() if name not in NOT_HANDED_ON}
    return kept | {"FAIRHAND_DATA": str(folder)} | more


class Server:
    """A running `serve`: what it printed so far, and its pages."""

    def __init__(self, process: subprocess.Popen[str], port: int) -> None:
        self.port, self.pid = port, process.pid
        self.printed: list[str] = []
        self._lines: Queue[str] = Queue()
        assert process.stdout is not None
        threading.Thread(target=self._read, args=(process.stdout,), daemon=True).start()

    def _read(self, stream: IO[str]) -> None:
        for line in stream:
            self._lines.put(line)

    def wait_for(self, pattern: str) -> re.Match[str]:
        while True:
            try:
                self.printed.append(self._lines.get(timeout=PATIENCE))
            except Empty:
                pytest.fail(f"{pattern!r} was never printed, but: {''.join(self.printed)}")
            if found := re.search(pattern, self.printed[-1]):
                return found

    def get(self, path: str) -> tuple[int, str]:
        try:
            with urllib.request.urlopen(f"http://127.0.0.1:{self.port}{path}", timeout=PATIENCE) as answer:
                return answer.status, answer.read().decode()
        except urllib.error.HTTPError as error:
            return error.code, error.read().decode()

    def wait_until_it_answers(self) -> None:
        for _ in range(PATIENCE * 10):
            try:
                self.get("/healthy/")
            except OSError:  # nobody listens yet, or what took it in has gone
                threading.Event().wait(0.1)
            else:
                return
        pytest.fail("The server never answered.")


def with_migrated(folder: Path, migrated: Path) -> Path:
    """The folder, with a copy of a database that is migrated already, which a first start takes longest for."""
    with closing(sqlite3.connect(migrated)) as there, closing(sqlite3.connect(folder / "fairhand.sqlite3")) as here:
        there.backup(here)
    return folder


@contextmanager
def serving(folder: Path, *arguments: str, port: int | None = None, **more: str) -> Iterator[Server]:
    port = port or free_port()
    process = subprocess.Popen(
        [sys.executable, str(MANAGE), "serve", "--port", str(port), *arguments],
        env=environment(folder, **more),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        cwd=Path(tempfile.gettempdir()),  # from anywhere
    )
    try:
        yield Server(process, port)
    finally:
        process.terminate()  # not by SIGINT, which is ignored in whatever a shell started in the background
        process.wait(timeout=PATIENCE)


def refused(folder: Path, *arguments: str, largest_file: int | None = None) -> str:
    """What a `serve` that does not start says; it must be one line and no traceback.

    `largest_file` is the most bytes that it may write into one file, as on a disk that is full.
    """

    def hold_to_largest_file() -> None:
        import resource  # not every system has it

        if largest_file is not None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (largest_file, largest_file))

    run = subprocess.run(
        [sys.executable, str(MANAGE), "serve", *arguments],
        env=environment(folder),
        preexec_fn=hold_to_largest_file if largest_file is not None else None,
        capture_output=True,
        text=True,
        timeout=PATIENCE,
    )
    assert run.returncode == 1
    assert "Traceback" not in run.stderr
    lines = run.stderr.strip().splitlines()
    assert len(lines) == 1, run.stderr
    return lines[0]
