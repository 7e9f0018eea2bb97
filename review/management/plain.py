"""Commands whose refusals are a sentence for whoever typed them, and nothing before it."""

from __future__ import annotations

import sys
from argparse import ArgumentTypeError
from typing import Any, NoReturn

from django.core.management.base import BaseCommand, CommandError


class PlainCommand(BaseCommand):
    """Typed at a shell, what it cannot do is said alone; called from code, it raises the error as ever."""

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
