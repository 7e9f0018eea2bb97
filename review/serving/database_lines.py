"""Lines to the database that were cut while nothing was asked on them: found out before a request is worked on, and
without a question to the database, which would take an open page's answer half as long again."""

from __future__ import annotations

from selectors import EVENT_READ, DefaultSelector
from typing import Any

from django.db import connections


def drop_cut_lines(**_: Any) -> None:
    """Close the lines of this thread on which the database is gone, so that new ones are opened. SQLite has none."""
    for connection in connections.all(initialized_only=True):
        line = connection.connection
        if connection.vendor == "postgresql" and line is not None and not connection.in_atomic_block and is_cut(line):
            connection.close()


def is_cut(line: Any) -> bool:
    """Whether a line of psycopg's is over. Between two questions PostgreSQL says nothing but why it ends a line, so one
    on which something has come unasked is taken for over too."""
    if line.closed:
        return True
    with DefaultSelector() as waiting:
        waiting.register(line.pgconn.socket, EVENT_READ)
        return bool(waiting.select(timeout=0))
