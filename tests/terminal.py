"""A command as from a terminal, without a process of its own: what it prints on either stream, and how it ends."""

from __future__ import annotations

import io
import sys
from typing import NamedTuple

import pytest
from django.core.management import execute_from_command_line


class Ended(NamedTuple):
    returncode: int
    stdout: str
    stderr: str


def ended(capsys: pytest.CaptureFixture[str], *arguments: str, script: bytes = b"") -> Ended:
    """How `manage.py` with these arguments ends, with the script on its standard input."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(script), encoding="utf-8"))
        try:
            execute_from_command_line(["manage.py", *arguments])
            status = 0
        except SystemExit as leaving:
            status = int(leaving.code or 0)
    told = capsys.readouterr()
    return Ended(status, told.out, told.err)
