"""PDFs with a text layer to Fountain: the words' places on the paper turned into typed sheets."""

from __future__ import annotations

import json
import subprocess
import sys
from collections import Counter
from itertools import pairwise
from pathlib import Path
from statistics import median
from typing import TYPE_CHECKING, Any, NamedTuple

from screenplay.intake import refusals
from screenplay.intake.columns import MAXIMUM_SHEETS, TOO_MANY_SHEETS, Conversion, read_sheets
from screenplay.intake.refusals import Unreadable
from screenplay.intake.sheets import STYLES, Sheet, TypedLine, Word

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

MOST_SECONDS = 60
_LARGER = 1.5  # times the usual size: what stands across a page, or on its cover
_LEAST_WORDS = 3  # a page, on average; a scan has none, or a stamp
_SAME_LINE = 0.35  # of the type's size
_SAME_PLACE = 1.0  # points: a word set twice, to look bold
_BLANK = 1.3  # times the pitch from one line to the next: more leaves a blank line
_LEAST_SHARE = 0.12  # of the steps from line to line
_MOST_ROWS = 200

_EXPORT = "export it again from the program it was written with, as a PDF or as plain text, and choose that file"
LOCKED = f"{{it}} is locked with a password or against copying: save a copy that is not, or {_EXPORT}."
DAMAGED = f"{{it}} is a PDF that is damaged or not whole: {_EXPORT}."
SCANNED = f"{{it}} has pictures of pages with no text in them, as a scan has: {_EXPORT}."
GARBLED = f"{{it}} does not say which letters its signs stand for, so no text can be read from it: {_EXPORT}."
TOO_SLOW = f"{{it}} takes too long to read: {_EXPORT}."
_WRONG = {"locked": LOCKED, "damaged": DAMAGED, "too many pages": TOO_MANY_SHEETS}
_PROGRAM = Path(__file__).with_name("pdf_words.py")  # run, never imported: what it imports is native code


class Placed(NamedTuple):
    """A word on a page: its edges and baseline in points from the paper's lower left corner, its type's size, and its
    `style` as in `sheets.Word`."""

    text: str
    left: float
    right: float
    baseline: float
    size: float
    is_tilted: bool
    is_light: bool
    style: int = 0


def is_pdf(data: bytes) -> bool:
    """Whether a file is a PDF by its first bytes."""
    return data[:1024].lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"%PDF-")


def read_pdf(data: bytes, filename: str = "") -> Conversion:
    """Read a PDF of at most 4 MiB (4 * 1024 * 1024 bytes) and 1,000 pages, in a process of its own.

    What is tilted, light or much larger than the rest is left out: it is a name across the page. Raises Unreadable,
    with one sentence that names `filename`, for a PDF that is locked, damaged, without text, too long or too slow.
    """
    try:
        return read_sheets(sheets_of_pages(_pages(data)))
    except Unreadable as refusal:
        raise refusal.about(f"“{filename}”" if filename else "This file") from None


def _pages(data: bytes) -> list[list[Placed]]:
    if not data:
        raise Unreadable(refusals.EMPTY)
    if len(data) > refusals.MAXIMUM_BYTES:
        raise Unreadable(refusals.TOO_LONG)
    told = _told_apart(data)
    if "wrong" in told:
        raise Unreadable(_WRONG[told["wrong"]])
    return [[Placed(*word) for word in page] for page in told["pages"]]


def _told_apart(data: bytes) -> dict[str, Any]:
    """What the program that reads PDFs says of this one; a PDF that ends it is damaged."""
    program = [sys.executable, str(_PROGRAM), str(MAXIMUM_SHEETS)]
    try:
        done = subprocess.run(program, input=data, capture_output=True, timeout=MOST_SECONDS, check=True)  # noqa: S603
    except subprocess.TimeoutExpired:
        raise Unreadable(TOO_SLOW) from None
    except subprocess.CalledProcessError:
        raise Unreadable(DAMAGED) from None
    told: dict[str, Any] = json.loads(done.stdout)
    return told


def sheets_of_pages(pages: Sequence[Sequence[Placed]]) -> list[Sheet]:
    """Sheets of lines, counted in columns as wide as the type's usual character.

    Raises Unreadable where the pages have no text to speak of.
    """
    words = [word for page in pages for word in page]
    if len(words) < _LEAST_WORDS * max(len(pages), 1):
        raise Unreadable(SCANNED)
    if sum(not word.text.isprintable() or "\ufffd" in word.text for word in words) * 4 > len(words):
        raise Unreadable(GARBLED)
    size = median(word.size for word in words)
    mostly_light = sum(word.is_light for word in words) * 2 > len(words)
    kept = [
        [word for word in page if _is_script(word, size if index else 0, mostly_light)]
        for index, page in enumerate(pages)
    ]
    usual = _usual_style(words)
    unit = _unit([word for page in kept for word in page])
    lines = [list(_lines(page)) for page in kept]
    pitch = _pitch(lines, size)
    top = max((page[0][0].baseline for page in lines if page), default=0.0)
    sheets = [_sheet(page, unit, pitch, top, usual) for page in lines if page]
    if not sheets:
        raise Unreadable(SCANNED)
    return sheets


def _is_script(word: Placed, size: float, mostly_light: bool) -> bool:
    """Whether a word belongs to the script, whose type has this size; 0 where any size may stand."""
    if word.is_tilted or (word.is_light and not mostly_light):
        return False
    return not size or word.size <= size * _LARGER


def _usual_style(words: Sequence[Placed]) -> int:
    """The style of most words, which says nothing."""
    return sum(style for style in STYLES if sum(bool(word.style & style) for word in words) * 2 > len(words))


def _unit(words: Sequence[Placed]) -> float:
    """The usual width of a character, in points."""
    widths = [(word.right - word.left) / len(word.text) for word in words if len(word.text) > 2]
    return max(median(widths), 0.5) if widths else 7.2


def _lines(words: Sequence[Placed]) -> Iterator[list[Placed]]:
    """The words line by line from the top, each from left to right."""
    line: list[Placed] = []
    for word in sorted(words, key=lambda word: -word.baseline):
        if line and line[0].baseline - word.baseline > _SAME_LINE * max(word.size, 1):
            yield _set_once(line)
            line = []
        line.append(word)
    if line:
        yield _set_once(line)


def _set_once(line: list[Placed]) -> list[Placed]:
    line.sort(key=lambda word: word.left)
    return [
        word
        for before, word in pairwise([None, *line])
        if word and not (before and before.text == word.text and abs(before.left - word.left) < _SAME_PLACE)
    ]


def _pitch(pages: Sequence[Sequence[Sequence[Placed]]], size: float) -> float:
    """The least distance from line to line that is a usual one, in points."""
    steps = Counter(
        round((line[0].baseline - following[0].baseline) * 2) / 2
        for lines in pages
        for line, following in pairwise(lines)
    )
    least = steps.total() * _LEAST_SHARE
    usual = [step for step, count in steps.items() if count >= least and step >= 0.7 * size]
    return min(usual, default=max(size, 1.0))


def _sheet(lines: Sequence[Sequence[Placed]], unit: float, pitch: float, top: float, usual: int) -> Sheet:
    """A page's lines with the blank ones between them, from `top`, the highest baseline of any page."""
    sheet: Sheet = []
    before = top + pitch
    for line in lines:
        steps = (before - line[0].baseline) / pitch
        blank = max(round(steps) - 1, 1 if steps > _BLANK else 0)
        for _ in range(min(blank, _MOST_ROWS)):
            sheet.append(TypedLine(len(sheet) + 1))
        sheet.append(TypedLine(len(sheet) + 1, tuple(_typed(line, unit, usual))))
        before = line[0].baseline
    return sheet


def _typed(line: Sequence[Placed], unit: float, usual: int) -> Iterator[Word]:
    end = 0.0
    for index, word in enumerate(line):
        gap = max(round((word.left - end) / unit), 1) if index else 0
        yield Word(word.text, word.left / unit, word.right / unit, min(gap, _MOST_ROWS), word.style & ~usual)
        end = word.right
