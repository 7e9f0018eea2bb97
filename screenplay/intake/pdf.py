"""PDFs with a text layer to Fountain: read by a program of its own, and what is no script refused."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

from screenplay.intake import refusals
from screenplay.intake.columns import MAXIMUM_PAGES, TOO_MANY_PAGES, Conversion, read_typed_pages
from screenplay.intake.pdf_pages import typed_pages_of_pdf
from screenplay.intake.refusals import EXPORT_AGAIN, Unreadable
from screenplay.intake.watermarks import PdfWord

MOST_SECONDS = 60

LOCKED = f"{{it}} is locked with a password or against copying: save a copy that is not, or {EXPORT_AGAIN}."
DAMAGED = f"{{it}} is a PDF that is damaged or not whole: {EXPORT_AGAIN}."
TOO_SLOW = f"{{it}} takes too long to read: {EXPORT_AGAIN}."
_WRONG = {"locked": LOCKED, "damaged": DAMAGED, "too many pages": TOO_MANY_PAGES}
_PROGRAM = Path(__file__).with_name("pdf_words.py")  # run, never imported: what it imports is native code


def is_pdf(data: bytes) -> bool:
    """Whether a file is a PDF by its first bytes."""
    return data[:1024].lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"%PDF-")


def read_pdf(data: bytes, filename: str = "") -> Conversion:
    """Read a PDF of at most 4 MiB (4 * 1024 * 1024 bytes) and 1,000 pages, in a process of its own.

    What is tilted, light or much larger than the rest is left out: it is a name across the page. Raises Unreadable,
    with one sentence that names `filename`, for a PDF that is locked, damaged, without text, too long or too slow.
    """
    try:
        return read_typed_pages(typed_pages_of_pdf(_pages(data)))
    except Unreadable as refusal:
        raise refusal.about(f"“{filename}”" if filename else "This file") from None


def _pages(data: bytes) -> list[list[PdfWord]]:
    if not data:
        raise Unreadable(refusals.EMPTY)
    if len(data) > refusals.MAXIMUM_BYTES:
        raise Unreadable(refusals.TOO_LONG)
    told = _told_apart(data)
    if "wrong" in told:
        raise Unreadable(_WRONG[told["wrong"]])
    return [list(map(PdfWord._make, page)) for page in told["pages"]]


def _told_apart(data: bytes) -> dict[str, Any]:
    """What the program that reads PDFs says of this one; a PDF that ends it is damaged."""
    program = [sys.executable, str(_PROGRAM), str(MAXIMUM_PAGES)]
    try:
        done = subprocess.run(program, input=data, capture_output=True, timeout=MOST_SECONDS, check=True)  # noqa: S603
    except subprocess.TimeoutExpired:
        raise Unreadable(TOO_SLOW) from None
    except subprocess.CalledProcessError:
        raise Unreadable(DAMAGED) from None
    told: dict[str, Any] = json.loads(done.stdout)
    return told
