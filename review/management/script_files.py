"""Scripts that a command is given: a file's path, or `-` for standard input."""

from __future__ import annotations

import sys
from pathlib import Path

from django.core.management.base import CommandError

from screenplay.intake import Unreadable, read_bytes

EXIT_UNREADABLE = 2


class UnreadableScript(CommandError):  # noqa: N818 - as `Unreadable`
    """A script that can't be read, and why, in one sentence. The command ends with 2."""

    def __init__(self, sentence: str) -> None:
        super().__init__(sentence, returncode=EXIT_UNREADABLE)


def read_script(path: str) -> str:
    """The text of the script at `path`, without a byte-order mark. Raises UnreadableScript."""
    try:
        return read_bytes(_bytes(path), "" if path == "-" else Path(path).name).text
    except Unreadable as refusal:
        raise UnreadableScript(str(refusal)) from None


def _bytes(path: str) -> bytes:
    if path == "-":
        return sys.stdin.buffer.read()
    try:
        return Path(path).read_bytes()
    except FileNotFoundError:
        raise UnreadableScript(f"There is no file “{path}”.") from None
    except IsADirectoryError:
        raise UnreadableScript(f"“{path}” is a folder: name a file in it.") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise UnreadableScript(f"“{path}” can't be opened: {reason}.") from None
