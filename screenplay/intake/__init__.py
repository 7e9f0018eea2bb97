"""Other ways in: a file's bytes, or pasted text, to the text of a draft, or a sentence that says why not."""

from __future__ import annotations

from screenplay.intake.encodings import Intake, read_bytes, read_text
from screenplay.intake.refusals import MAXIMUM_BYTES, Unreadable

__all__ = ["MAXIMUM_BYTES", "Intake", "Unreadable", "read_bytes", "read_text"]
