"""What the commands have in common that read scripts: a file's path, or `-` for standard input, and one way to fail."""

from __future__ import annotations

import sys
from argparse import RawDescriptionHelpFormatter
from pathlib import Path
from typing import Any

from django.core.management.base import CommandError, CommandParser

from review.management.plain import PlainCommand
from screenplay.intake import Unreadable, read_bytes

EXIT_UNREADABLE = 2


class UnreadableScript(CommandError):
    """A script that can't be read, and why, in one sentence. The command ends with 2."""

    def __init__(self, sentence: str) -> None:
        super().__init__(sentence, returncode=EXIT_UNREADABLE)


class ScriptCommand(PlainCommand):
    """A command that reads scripts, and needs no database. Its help ends in its module's description of the JSON."""

    requires_system_checks: list[str] = []
    description_of_json: str | None

    def create_parser(self, prog_name: str, subcommand: str, **kwargs: Any) -> CommandParser:
        kwargs = {"epilog": self.description_of_json, "formatter_class": RawDescriptionHelpFormatter, **kwargs}
        return super().create_parser(prog_name, subcommand, **kwargs)

    def run_from_argv(self, argv: list[str]) -> None:
        """As from a shell, whose encoding may not have every character of a script."""
        if hasattr(sys.stdout, "reconfigure"):
            sys.stdout.reconfigure(errors="replace")
        super().run_from_argv(argv)


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
