"""What is no script's text, and the sentence that says what to do instead."""

from __future__ import annotations

import re

MAXIMUM_BYTES = 4 * 1024 * 1024

_SAVE_AS = (
    "open it in the program it was written with, save or export it as plain text or Fountain, and choose that file"
)
EXPORT_AGAIN = "export it again from the program it was written with, as a PDF or as plain text, and choose that file"
_CHOOSE = "choose a file with a script's text, or paste the text"
_PICTURE = "{it} is a picture: choose the script's text instead."
# The first bytes of kinds of file, each as its own standard or maker fixes them.
_SIGNATURES = (
    (b"%PDF-", f"{{it}} is a PDF, not text: {_SAVE_AS}."),
    (b"PK\x03\x04", f"{{it}} is a word processor's file or a zip archive, not text: {_SAVE_AS}."),
    (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", f"{{it}} is an old word processor's file, not text: {_SAVE_AS}."),
    (b"{\\rtf", f"{{it}} is rich text, with its formatting written into it: {_SAVE_AS}."),
    (b"<?xml", f"{{it}} is XML, which one program writes for another: {_SAVE_AS}."),
    (b"\x1f\x8b", "{it} is a compressed file: unpack it, and choose the text inside."),
    (b"\x89PNG", _PICTURE),
    (b"\xff\xd8\xff", _PICTURE),
    (b"GIF8", _PICTURE),
)
EMPTY = f"{{it}} is empty: {_CHOOSE}."
BLANK = f"{{it}} has nothing in it but white space: {_CHOOSE}."
TOO_LONG = "{it} is over 4 MiB, far more than a script: choose the script's text alone, without pictures."
BINARY = f"{{it}} is not text: {_SAVE_AS}."
WEB_PAGE = "{it} is the source of a web page: open the page in a browser, copy the script's text there, and paste that."
UNKNOWN_CHARACTERS = (
    "{it} has accented letters stored in a way that is not certain, and a guess could spoil them: save it as text in "
    "UTF-8, and choose that file."
)
DAMAGED = "{{it}} has damaged letters, the first of them in line {line}: save it again as text in UTF-8."
LONE_SURROGATE = "{{it}} lacks part of a character in line {line}: type that line again."

# How a web page's source begins, whole or in part.
_WEB_PAGE = re.compile(r"(?ai:\s*(?:<!--.{0,2000}?-->\s*)*<(?:!doctype\s+html|html|head|body)\b)", re.DOTALL)
_FRAGMENT = re.compile(r"(?ai:\s*<(?:div|p|span|table|section|article|main|pre|meta|h1)(?:\s[^<>]*)?>)")
_CLOSING_TAG = re.compile(r"(?ai:</(?:div|p|span|table|section|article|main|pre|h1)>)")
# What no text has, beyond the line ends, tabs, form feeds and the end-of-file mark of old systems.
_CONTROL = re.compile(r"[\x00-\x08\x0e-\x19\x1b-\x1f\x7f]")


class Unreadable(ValueError):
    """Something that is not a script's text. Its message is one sentence: what is wrong, and what to do.

    Within this package the sentence may still have `{it}` for a subject.
    """

    def about(self, it: str) -> Unreadable:
        """The same, about `it`: a file by its name, or what was pasted."""
        return Unreadable(str(self).replace("{it}", it))


def refuse_other_files(start: bytes) -> None:
    """Unreadable if these first bytes are those of a kind of file that is not text."""
    start = start.lstrip(b"\xef\xbb\xbf \t\r\n")
    for signature, sentence in _SIGNATURES:
        if start.startswith(signature):
            raise Unreadable(sentence)


def refuse_what_is_no_script(text: str) -> None:
    """Unreadable if this text is blank, full of control characters or the source of a web page."""
    if not text.strip():
        raise Unreadable(BLANK if text else EMPTY)
    if "\0" in text or len(_CONTROL.findall(text)) * 100 > len(text):
        raise Unreadable(BINARY)
    start = text[:20_000]
    if _WEB_PAGE.match(start) or (_FRAGMENT.match(start) and len(_CLOSING_TAG.findall(start)) > 1):
        raise Unreadable(WEB_PAGE)


def line_of(text: str, offset: int) -> int:
    """The number, from 1, of the line that has the character at `offset`."""
    before = text[:offset]
    return 1 + before.count("\n") + before.count("\r") - before.count("\r\n")
