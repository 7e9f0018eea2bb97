"""Scripts set as PDF by reportlab, a library that the project does not print with, on sheets of many kinds.

It sets what it is given line by line, by its own measures, and shares no code with what reads it.
"""

from __future__ import annotations

import io
import math
from dataclasses import dataclass, field
from functools import cache
from typing import TYPE_CHECKING, Literal

import pypdfium2
import pypdfium2.raw as pdfium
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

width_of = cache(stringWidth)  # of words, in points: no letters stand closer together than others

Part = tuple[str, str]  # a kind, as `inspect --json` names it, and the text
# What makes the pages larger or smaller: the page's own matrix, that of each text, or, as browsers print, both: a page
# on its head in units of a dot, with type of so many dots turned over again.
ScaledBy = Literal["page", "text", "print"]
DOT = 0.24  # points
PAPERS = {"letter": LETTER, "a4": A4}


@dataclass(frozen=True)
class Sheets:
    """How a script is set: sizes in points; columns from the left margin, and the widths of what stands in them."""

    paper: str = "letter"
    font: str = "Courier"
    size: float = 12
    pitch: float = 12
    left: float = 108
    top: float = 72
    rows: int = 54
    action_width: float = 432
    dialogue: tuple[float, float] = (72, 252)
    parenthetical: tuple[float, float] = (115.2, 173)
    cue: float = 158.4
    header: str = ""
    footer: str = ""
    name_across: str = ""
    scene_numbers: bool = False
    asterisks: bool = False
    more: str = "(MORE)"
    encrypt: str = ""
    title: Sequence[str] = field(default=())
    scale: float = 1
    scaled_by: ScaledBy = "page"


@dataclass
class _Row:
    x: float
    text: str
    number: str = ""


def set_script(parts: Sequence[Part], sheets: Sheets | None = None) -> bytes:
    """The PDF of a script, given as parts: a blank row stands before each that does not belong to a speech."""
    return _Setter(sheets or Sheets()).set(parts)


def drawn_at(scale: float, pdf: bytes) -> bytes:
    """Any PDF with its pages and all on them so many times as large."""
    document = pypdfium2.PdfDocument(pdf)
    matrix = pdfium.FS_MATRIX(scale, 0, 0, scale, 0, 0)
    for page in document:
        page.set_mediabox(*(scale * edge for edge in page.get_mediabox()))
        pdfium.FPDFPage_TransFormWithClip(page, matrix, None)
    file = io.BytesIO()
    document.save(file)
    return file.getvalue()


class _Setter:
    def __init__(self, sheets: Sheets) -> None:
        self.sheets = sheets
        self.width, self.height = PAPERS[sheets.paper]
        self.file = io.BytesIO()
        size = (self.width * self.sheets.scale, self.height * self.sheets.scale)
        self.canvas = Canvas(self.file, pagesize=size, encrypt=sheets.encrypt or None)
        self.page = 0
        self.row = 0

    def set(self, parts: Sequence[Part]) -> bytes:
        if self.sheets.title:
            self._title()
        self._begin_page()
        number = 0
        for block in _blocks(parts):
            if block[0][0] == "scene_heading":
                number += 1
            self._block(block, str(number))
        self._end_page()
        self.canvas.save()
        return self.file.getvalue()

    def _title(self) -> None:
        self._begin_sheet()
        for index, line in enumerate(self.sheets.title):
            self._centred(self.width / 2, self.height * 2 / 3 - 24 * index, line)
        self.canvas.showPage()

    def _begin_sheet(self) -> None:
        scale = self.sheets.scale
        if self.sheets.scaled_by == "page":
            self.canvas.scale(scale, scale)
        elif self.sheets.scaled_by == "print":
            self.canvas.transform(DOT, 0, 0, -DOT, 0, self.height * scale)

    def _begin_page(self) -> None:
        self.page += 1
        self.row = 0
        sheets = self.sheets
        self._begin_sheet()
        if sheets.name_across:
            self.canvas.setFillGray(0.85)
            self._string(self.width / 3, self.height / 3, sheets.name_across, ("Helvetica", 60), math.radians(50))
            self.canvas.setFillGray(0)
        if self.page > 1:
            number = f"{self.page}."
            self._string(self.width - 72 - self._width(number), self.height - 36, number)
        if sheets.header:
            self._string(sheets.left, self.height - 36, sheets.header)
        if sheets.footer:
            self._centred(self.width / 2, 30, sheets.footer)

    def _centred(self, x: float, y: float, text: str) -> None:
        self._string(x - self._width(text) / 2, y, text)

    def _width(self, text: str) -> float:
        return width_of(text, self.sheets.font, self.sheets.size)

    def _string(self, x: float, y: float, text: str, font: tuple[str, float] | None = None, angle: float = 0) -> None:
        """Draw text from a place in points of the paper before it is scaled, turned by so many radians."""
        name, size = font or (self.sheets.font, self.sheets.size)
        scale, cos, sin = self.sheets.scale, math.cos(angle), math.sin(angle)
        drawn = self.canvas.beginText()
        if self.sheets.scaled_by == "page":
            drawn.setTextTransform(cos, sin, -sin, cos, x, y)
        elif self.sheets.scaled_by == "text":
            drawn.setTextTransform(scale * cos, scale * sin, -scale * sin, scale * cos, x * scale, y * scale)
        else:
            dots = scale / DOT
            size *= dots
            drawn.setTextTransform(cos, -sin, -sin, -cos, x * dots, (self.height - y) * dots)
        drawn.setFont(name, size)
        drawn.textOut(text)
        self.canvas.drawText(drawn)

    def _end_page(self) -> None:
        self.canvas.showPage()

    def _block(self, block: Sequence[Part], number: str) -> None:
        kind = block[0][0]
        rows = [row for part in block for row in self._rows(*part)]
        if kind == "scene_heading" and self.sheets.scene_numbers:
            rows[0].number = number
        while self.row + bool(self.row) + len(rows) > self.sheets.rows:
            cut = self._cut(kind, rows)
            if not cut and not self.row:
                break
            if cut:
                rows = self._broken(kind, rows, cut)
            self._next_page()
        self._draw(rows, bool(self.row))

    def _cut(self, kind: str, rows: Sequence[_Row]) -> int:
        """How many rows stay on this page of what does not fit on it: two on each side, or none."""
        is_speech = kind == "character"
        cut = min(self.sheets.rows - self.row - bool(self.row) - is_speech, len(rows) - 2)
        least = 3 if is_speech else 2
        return cut if kind in {"action", "character"} and cut >= least and rows[cut - 1].text[0] != "(" else 0

    def _broken(self, kind: str, rows: list[_Row], cut: int) -> list[_Row]:
        """Draw the rows before the cut; what is left of them for the next page."""
        self._draw(rows[:cut], bool(self.row))
        if kind != "character":
            return rows[cut:]
        if self.sheets.more:
            self._draw([_Row(rows[0].x, self.sheets.more)], 0)
        return [_Row(rows[0].x, f"{rows[0].text} (CONT'D)"), *rows[cut:]]

    def _next_page(self) -> None:
        self._end_page()
        self._begin_page()

    def _draw(self, rows: Sequence[_Row], gap: int) -> None:
        self.row += gap
        for row in rows:
            y = self.height - self.sheets.top - self.sheets.pitch * self.row
            self._string(row.x, y, row.text)
            if row.number:
                self._string(self.sheets.left - 36, y, row.number)
                self._string(self.width - 60, y, row.number)
            if self.sheets.asterisks and self.row % 5 == 2:
                self._string(self.width - 36, y, "*")
            self.row += 1

    def _rows(self, kind: str, text: str) -> list[_Row]:
        sheets = self.sheets
        if kind == "transition":
            return [_Row(sheets.left + sheets.action_width - self._width(text), text)]
        indent, width = {
            "character": (sheets.cue, 300.0),
            "dialogue": sheets.dialogue,
            "parenthetical": sheets.parenthetical,
        }.get(kind, (0.0, sheets.action_width))
        return [_Row(sheets.left + indent, line) for line in self._wrapped(text, width)]

    def _wrapped(self, text: str, width: float) -> Iterator[str]:
        line: list[str] = []
        space, length = self._width(" "), 0.0
        for word in text.split():
            longer = length + space * bool(line) + self._width(word)
            if line and longer > width + 0.01:
                yield " ".join(line)
                line, longer = [], self._width(word)
            line.append(word)
            length = longer
        yield " ".join(line)


def _blocks(parts: Sequence[Part]) -> Iterator[list[Part]]:
    block: list[Part] = []
    for part in parts:
        if block and part[0] not in {"dialogue", "parenthetical"}:
            yield block
            block = []
        block.append(part)
    if block:
        yield block
