"""How a text's characters are stored: UTF-8, UTF-16 or Windows-1252, and what to do where that is not certain."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

from screenplay.intake import refusals
from screenplay.intake.limits import refuse_more_than_a_text
from screenplay.intake.refusals import Unreadable

_MARKS = (
    (b"\xef\xbb\xbf", "utf-8"),
    (b"\xff\xfe", "utf-16-le"),
    (b"\xfe\xff", "utf-16-be"),
)
_SAMPLE_BYTES = 32 * 1024

# Letters that Windows-1252 has for Icelandic and other code pages for Turkish; and the letters Turkish never has.
_ICELANDIC_OR_TURKISH = re.compile(r"[ðþýÐÞÝ]")
_NEVER_TURKISH = re.compile(r"[áéíóúæÁÉÍÓÚÆ]")
# Letters that Windows-1252 has for different languages, and that stand together where another code page's Hungarian is
# read as it.
_HUNGARIAN_ELSEWHERE = (("õÕ", "öÖ", "áéíóúÁÉÍÓÚ"), ("ûÛ", "öÖ", "áíóúÁÍÓÚ"))
_SURROGATE = re.compile(r"[\ud800-\udfff]")
# A sign in the middle of a word that is not a mark of punctuation there; a capital between a word's small letters.
_OUT_OF_PLACE = re.compile(r"[^\W\d_][^\w\s'’‘\-–—·\x00-\x7f\xa0\xad…“”][^\W\d_]")

_CAPITAL_WITHIN_WORD = re.compile(r"[a-zß-öø-ÿ][À-ÖØ-ÞŠŽŒŸ][a-zß-öø-ÿ]")


@dataclass(frozen=True, slots=True)
class Intake:
    """A draft's text and how it was stored. `text` has its own line ends and no byte-order mark.

    `encoding` is a codec's name (utf-8, utf-16-le, utf-16-be, cp1252); `bom` is the mark's bytes, often none.
    """

    text: str
    encoding: str
    bom: bytes

    def to_bytes(self) -> bytes:
        """The very bytes that came in."""
        return self.bom + self.text.encode(self.encoding)


def read_bytes(data: bytes, filename: str = "") -> Intake:
    """The text of an uploaded file of at most 4 MiB (4 * 1024 * 1024 bytes).

    Raises Unreadable, with one sentence that says what is wrong and what to do: an empty file or one with nothing
    but white space, one that is too long or has more in it than `limits` lets a script have, that is no text, or whose
    characters are stored in a way that is not certain. `filename` is named in that sentence.
    """
    try:
        return _read(data)
    except Unreadable as refusal:
        raise refusal.about(f"“{filename}”" if filename else "This file") from None


def read_text(text: str) -> Intake:
    """Pasted text, as it is. Raises Unreadable as `read_bytes` does."""
    try:
        return _pasted(text)
    except Unreadable as refusal:
        raise refusal.about("The pasted text") from None


def _pasted(text: str) -> Intake:
    if not text:
        raise Unreadable(refusals.EMPTY)
    bom, text = (b"\xef\xbb\xbf", text[1:]) if text.startswith("\ufeff") else (b"", text)
    if lone := _SURROGATE.search(text):
        raise Unreadable(refusals.LONE_SURROGATE.format(line=refusals.line_of(text, lone.start())))
    data = text.encode()
    if len(data) > refusals.MAXIMUM_BYTES:
        raise Unreadable(refusals.TOO_LONG)
    refusals.refuse_other_files(data[:64])
    refusals.refuse_what_is_no_script(text)
    refuse_more_than_a_text(text)
    return Intake(text, "utf-8", bom)


def _read(data: bytes) -> Intake:
    if not data:
        raise Unreadable(refusals.EMPTY)
    if len(data) > refusals.MAXIMUM_BYTES:
        raise Unreadable(refusals.TOO_LONG)
    refusals.refuse_other_files(data[:64])
    intake = _decoded(data)
    refusals.refuse_what_is_no_script(intake.text)
    refuse_more_than_a_text(intake.text)
    return intake


def _decoded(data: bytes) -> Intake:
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            return _strictly(data, encoding, mark)
    if b"\0" in data:
        return _strictly(data, _utf_16_without_mark(data), b"")
    try:
        return Intake(data.decode("utf-8"), "utf-8", b"")
    except UnicodeDecodeError:
        return _windows_1252(data)


def _strictly(data: bytes, encoding: str, mark: bytes) -> Intake:
    """The text in this encoding; a place where it breaks off is a damaged character."""
    try:
        return Intake(data[len(mark) :].decode(encoding), encoding, mark)
    except UnicodeDecodeError as error:
        before = data[len(mark) : len(mark) + error.start].decode(encoding, errors="ignore")
        raise Unreadable(refusals.DAMAGED.format(line=refusals.line_of(before, len(before)))) from None


def _utf_16_without_mark(data: bytes) -> str:
    """UTF-16's byte order, where it is certain: Unreadable for any other bytes with zeros among them.

    Spaces and line ends have a zero byte in every script, on one side; in binary files zeros stand on both.
    """
    even, odd = data[::2].count(0), data[1::2].count(0)
    if len(data) % 2 or min(even, odd) or max(even, odd) * 20 < len(data):
        raise Unreadable(refusals.BINARY)
    encoding = "utf-16-le" if odd else "utf-16-be"
    text = data.decode(encoding, errors="replace")
    if any(unicodedata.category(character) in {"Cn", "Co", "Cs"} for character in set(text)):
        raise Unreadable(refusals.BINARY)
    return encoding


def _windows_1252(data: bytes) -> Intake:
    """Text in Windows-1252, if it reads like text in the languages that this code page is for."""
    _refuse_damaged_utf_8(data)
    try:
        text = data.decode("cp1252")
    except UnicodeDecodeError:
        raise Unreadable(refusals.UNKNOWN_CHARACTERS) from None
    if not _reads_like_windows_1252(text) or not _is_a_likely_reading(data):
        raise Unreadable(refusals.UNKNOWN_CHARACTERS)
    return Intake(text, "cp1252", b"")


def _refuse_damaged_utf_8(data: bytes) -> None:
    """Unreadable if most of what is not ASCII is UTF-8, and some of it is broken."""
    text = data.decode("utf-8", errors="replace")
    broken = text.count("\ufffd")
    whole = sum(character > "\x7f" for character in text) - broken
    if whole > broken:
        line = refusals.line_of(text, text.index("\ufffd"))
        raise Unreadable(refusals.DAMAGED.format(line=line))


def _reads_like_windows_1252(text: str) -> bool:
    if _OUT_OF_PLACE.search(text) or _CAPITAL_WITHIN_WORD.search(text):
        return False
    if _ICELANDIC_OR_TURKISH.search(text) and not _NEVER_TURKISH.search(text):
        return False
    found = set(text)
    return not any(all(found.intersection(letters) for letters in signs) for signs in _HUNGARIAN_ELSEWHERE)


def _is_a_likely_reading(data: bytes) -> bool:
    """Whether charset-normalizer, asked about the lines with accented letters, has this reading among its own."""
    from charset_normalizer import from_bytes  # noqa: PLC0415 - slow to load, and seldom needed

    sample = b"\n".join(line for line in re.split(rb"[\r\n]+", data) if not line.isascii())[:_SAMPLE_BYTES]
    text = sample.decode("cp1252")
    return any(str(reading) == text for reading in from_bytes(sample))
