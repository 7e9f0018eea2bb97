"""Commands whose refusals, and what is said of what was typed wrong, are a sentence, and nothing before it."""

from __future__ import annotations

import sys
from argparse import ArgumentTypeError
from typing import Any, NoReturn

from django.core.management.base import BaseCommand, CommandError, CommandParser

EXIT_TYPED_WRONG = 2  # as argparse has it


class PlainCommand(BaseCommand):
    """Typed at a shell, what it cannot do is said alone; called from code, it raises the error as ever."""

    suppressed_base_arguments = {
        "--version",
        "--verbosity",
        "--settings",
        "--pythonpath",
        "--traceback",
        "--no-color",
        "--force-color",
    }

    def create_parser(self, prog_name: str, subcommand: str, **kwargs: Any) -> CommandParser:
        """One that raises what was typed wrong, and does not tell it by itself, after how everything is typed."""
        parser = super().create_parser(prog_name, subcommand, **kwargs)
        parser.called_from_command_line = False
        return parser

    def run_from_argv(self, argv: list[str]) -> None:
        """How it is typed is told after what was wrong, unless that was the value of one argument."""
        try:
            super().run_from_argv(argv)
        except CommandError as wrong:
            told = str(wrong).removeprefix("Error: ")
            usage = "" if told.startswith("argument ") else "\n" + self.create_parser(*argv[:2]).format_usage().strip()
            self.refuse(CommandError(f"{told[0].upper()}{told[1:]}.{usage}", returncode=EXIT_TYPED_WRONG))

    def execute(self, *args: Any, **options: Any) -> str | None:
        try:
            return super().execute(*args, **options)
        except CommandError as refusal:
            self.refuse(refusal)

    def refuse(self, refusal: CommandError) -> NoReturn:
        if not getattr(self, "_called_from_command_line", False):
            raise refusal
        self.stderr.write(str(refusal))
        sys.exit(refusal.returncode)


def port_number(told: str) -> int:
    """A number typed for a port, whether or not there is a port of it. Raises ArgumentTypeError."""
    try:
        return int(told)
    except ValueError:
        raise ArgumentTypeError(f"“{told}” is no port: give a number from 1 to 65535, such as 8000") from None
