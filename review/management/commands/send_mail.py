"""Sends what mail is due, once: for a server that was started otherwise than by `serve`, which sends it itself."""

from __future__ import annotations

from typing import Any

from django.core.management.base import CommandError

from review.letters.composing import compose
from review.mail.sending import send_due
from review.mail.site import mail_is_on
from review.management.on_database import DatabaseCommand

NOT_ON = "No mail server is named: set EMAIL_HOST, as the README tells."
NOT_THERE = "Not all of it could be sent: what stood in the way is said above. It is tried again later."


class Command(DatabaseCommand):
    help = "Send what mail is due, once. It never sends one twice, whatever else is sending."

    def handle(self, **options: Any) -> None:
        if not mail_is_on():
            raise CommandError(NOT_ON)
        if not send_due(compose):
            raise CommandError(NOT_THERE)
