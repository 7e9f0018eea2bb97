"""What the terminal says of a request that was refused, and of one that failed."""

from __future__ import annotations

import logging
import sys

from review.plain_lines import RefusalsInOneLine


def logged(status_code: int) -> str:
    """What is written of a request that ended so, by an exception."""
    try:
        raise PermissionError("Only a writer decides notes.")
    except PermissionError:
        record = logging.LogRecord("django.request", logging.WARNING, "", 0, "Forbidden", None, sys.exc_info())
    record.status_code = status_code
    assert RefusalsInOneLine().filter(record)
    return logging.Formatter().format(record)


def test_a_refusal_is_one_line() -> None:
    assert logged(403) == "Forbidden"


def test_a_failure_keeps_its_traceback() -> None:
    assert "Traceback" in logged(500)
