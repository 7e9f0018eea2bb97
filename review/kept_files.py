"""The files in which what was worked out is kept beyond a process: bounded in bytes, and safe to delete."""

from __future__ import annotations

import logging
from contextlib import suppress
from pathlib import Path
from typing import Any

from django.core.cache.backends.filebased import FileBasedCache

log = logging.getLogger(__name__)


class KeptFiles(FileBasedCache):
    """Django's cache of files, each readable for the server's own user alone, that never has more than `MOST_BYTES`
    for longer than it takes to write one; the oldest go first.

    A file that cannot be read, or written, is one that is not there: what it holds is made again.
    """

    def __init__(self, location: str | Path, params: dict[str, Any]) -> None:
        with suppress(OSError):  # the folder cannot be made: whoever writes a file finds out, and says so
            super().__init__(str(location), params)
        self._folder = Path(location).absolute()
        self._most_bytes: int = params["OPTIONS"]["MOST_BYTES"]

    def get(self, key: Any, default: Any = None, version: int | None = None) -> Any:
        try:
            return super().get(key, default, version)
        except Exception:  # noqa: BLE001 -- spoiled bytes may raise whatever unpickling them comes upon
            return default

    def has_key(self, key: Any, version: int | None = None) -> bool:
        try:
            return super().has_key(key, version)
        except Exception:  # noqa: BLE001 -- as above
            return False

    def set(self, key: Any, value: Any, timeout: Any = None, version: int | None = None) -> None:
        try:
            super().set(key, value, None, version)
            self._make_room()
        except OSError as error:
            log.warning("What was worked out could not be kept, and will be worked out again: %s", error)

    def _cull(self) -> None:
        """Room is made by bytes, once a file is written, and not by their number."""

    def _make_room(self) -> None:
        sizes = sorted(_sizes(self._folder), reverse=True)
        total = 0
        for _, size, path in sizes:
            total += size
            if total > self._most_bytes:
                path.unlink(missing_ok=True)


def _sizes(folder: Path) -> list[tuple[float, int, Path]]:
    """When each file was written, its bytes, and the file; one that another process deletes meanwhile is left out."""
    found = []
    for path in folder.glob(f"*{FileBasedCache.cache_suffix}"):
        try:
            stat = path.stat()
        except FileNotFoundError:
            continue
        found.append((stat.st_mtime, stat.st_size, path))
    return found
