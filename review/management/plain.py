"""Commands whose refusals are a sentence for whoever typed them, and nothing before it."""

from __future__ import annotations

import sys
from typing import Any

from django.core.management.base import BaseCommand, CommandError


class PlainCommand(BaseCommand):
    """Typed at a shell, what it cannot do is said alone; called from code, it raises the error as ever."""

    def execute(self, *args: Any, **options: Any) -> str | None:
        try:
            return super().execute(*args, **options)
        except CommandError as refusal:
            if not getattr(self, "_called_from_command_line", False):
                raise
            self.stderr.write(str(refusal))
            sys.exit(refusal.returncode)
