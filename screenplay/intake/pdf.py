"""PDFs with a text layer to Fountain: read by a program of its own, and what is no script refused."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from screenplay.intake import refusals
from screenplay.intake.columns import MAXIMUM_PAGES, TOO_MANY_PAGES, Conversion, read_typed_pages
from screenplay.intake.pdf_pages import typed_pages_of_pdf
from screenplay.intake.refusals import EXPORT_AGAIN, Unreadable
from screenplay.intake.unread_pages import unread_pages
from screenplay.intake.watermarks import PdfWord

if TYPE_CHECKING:
    from collections.abc import Mapping

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

    What is tilted, light or much larger than the rest is left out: it is a name across the page. A page that cannot be
    read is told in `unread`. Raises Unreadable, with one sentence that names `filename`, for a PDF that is locked,
    damaged, without text, too long or too slow.
    """
    try:
        return _read(data)
    except Unreadable as refusal:
        raise refusal.about(f"“{filename}”" if filename else "This file") from None


def _read(data: bytes) -> Conversion:
    if not data:
        raise Unreadable(refusals.EMPTY)
    if len(data) > refusals.MAXIMUM_BYTES:
        raise Unreadable(refusals.TOO_LONG)
    told = _told_apart(data)
    if "wrong" in told:
        raise Unreadable(_WRONG[told["wrong"]])
    return read_told_pages(told)


def read_told_pages(told: Mapping[str, Any]) -> Conversion:
    """Read what the program that reads PDFs says of one that it could open."""
    pages: list[list[PdfWord]] = [list(map(PdfWord._make, page)) for page in told["pages"]]
    if not any(pages) and "not opened" in told["flaws"]:
        raise Unreadable(DAMAGED)
    typed = typed_pages_of_pdf(pages)
    unread = unread_pages(told["flaws"], [bool(page) for page in pages], typed)
    return replace(read_typed_pages(list(typed.values())), unread=tuple(unread))


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
