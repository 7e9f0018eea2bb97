"""Says whether a running server answers, for a container's health check."""

from __future__ import annotations

import http.client
from typing import Any

from django.conf import settings
from django.core.management.base import CommandError, CommandParser

from review.management.plain import PlainCommand, port_number

SECONDS = 4


class Command(PlainCommand):
    help = "Ask the server on this machine whether it works; exit 1 with a sentence if it does not answer."
    requires_system_checks: list[str] = []  # it asks over the network and needs nothing of ours

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--port", type=port_number, default=settings.PORT)

    def handle(self, *, port: int, **options: Any) -> None:
        server = http.client.HTTPConnection("127.0.0.1", port, timeout=SECONDS)
        try:
            server.request("GET", "/healthy/", headers={"Host": "localhost"})
            status = server.getresponse().status
        except OSError as error:
            raise CommandError(f"The server does not answer on port {port}: {error}") from error
        if status != http.client.OK:
            raise CommandError(f"The server answers on port {port}, but with status {status}.")
        self.stdout.write("healthy")
