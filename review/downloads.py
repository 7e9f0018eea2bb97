"""A file as the answer to a request: to be saved under a name, and kept nowhere on the way."""

from __future__ import annotations

from django.http import HttpResponse
from django.utils.http import content_disposition_header
from django.utils.text import slugify

PDF = "application/pdf"


def download(content: bytes, name: str, content_type: str) -> HttpResponse:
    """The answer that a browser saves under `name`."""
    response = HttpResponse(content, content_type=content_type)
    response["Content-Disposition"] = content_disposition_header(True, name) or ""
    response["Cache-Control"] = "private, no-store"
    return response


def file_name(words: str, ending: str) -> str:
    """A name for a file from words that say what is in it: "slack-water-draft-2.pdf"."""
    return f"{slugify(words, allow_unicode=True)}.{ending}"
