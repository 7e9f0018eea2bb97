"""Other ways in: a file's bytes, or pasted text, to the text of a draft, or a sentence that says why not."""

from __future__ import annotations

from screenplay.intake.columns import Conversion, from_columns, looks_typed_in_columns
from screenplay.intake.encodings import Intake, read_bytes, read_text
from screenplay.intake.limits import refuse_more_than_a_script
from screenplay.intake.pdf import is_pdf, read_pdf
from screenplay.intake.refusals import MAXIMUM_BYTES, Unreadable

__all__ = [
    "MAXIMUM_BYTES",
    "Conversion",
    "Intake",
    "Unreadable",
    "from_columns",
    "is_pdf",
    "looks_typed_in_columns",
    "read_bytes",
    "read_pdf",
    "read_text",
    "refuse_more_than_a_script",
]
