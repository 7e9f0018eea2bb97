"""Commands that work on what a production has: where there is none, they say so, and leave nothing behind."""

from __future__ import annotations

from typing import Any

from django.core.management.base import CommandError

from review.management.database import DatabaseRefused, refuse_unprepared
from review.management.plain import PlainCommand


class DatabaseCommand(PlainCommand):
    """Asks for the database before anything else: Django's own checks would make the folder where it is looked for."""

    def execute(self, *args: Any, **options: Any) -> str | None:
        try:
            refuse_unprepared()
        except DatabaseRefused as refusal:
            self.refuse(CommandError(str(refusal)))
        return super().execute(*args, **options)
