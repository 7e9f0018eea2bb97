"""Scripts set as PDF by reportlab, a library that the project does not print with, on sheets of many kinds.

It sets what it is given line by line, by its own measures, and shares no code with what reads it.
"""

from __future__ import annotations

import io
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

Part = tuple[str, str]  # a kind, as `inspect --json` names it, and the text
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


@dataclass
class _Row:
    x: float
    text: str
    number: str = ""


def set_script(parts: Sequence[Part], sheets: Sheets | None = None) -> bytes:
    """The PDF of a script, given as parts: a blank row stands before each that does not belong to a speech."""
    return _Setter(sheets or Sheets()).set(parts)


class _Setter:
    def __init__(self, sheets: Sheets) -> None:
        self.sheets = sheets
        self.width, self.height = PAPERS[sheets.paper]
        self.file = io.BytesIO()
        self.canvas = Canvas(self.file, pagesize=(self.width, self.height), encrypt=sheets.encrypt or None)
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
        self.canvas.setFont(self.sheets.font, self.sheets.size)
        for index, line in enumerate(self.sheets.title):
            self.canvas.drawCentredString(self.width / 2, self.height * 2 / 3 - 24 * index, line)
        self.canvas.showPage()

    def _begin_page(self) -> None:
        self.page += 1
        self.row = 0
        sheets = self.sheets
        if sheets.name_across:
            self.canvas.saveState()
            self.canvas.setFont("Helvetica", 60)
            self.canvas.setFillGray(0.85)
            self.canvas.translate(self.width / 2, self.height / 2)
            self.canvas.rotate(50)
            self.canvas.drawCentredString(0, 0, sheets.name_across)
            self.canvas.restoreState()
        self.canvas.setFont(sheets.font, sheets.size)
        if self.page > 1:
            self.canvas.drawRightString(self.width - 72, self.height - 36, f"{self.page}.")
        if sheets.header:
            self.canvas.drawString(sheets.left, self.height - 36, sheets.header)
        if sheets.footer:
            self.canvas.drawCentredString(self.width / 2, 30, sheets.footer)

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
            self.canvas.drawString(row.x, y, row.text)
            if row.number:
                self.canvas.drawString(self.sheets.left - 36, y, row.number)
                self.canvas.drawString(self.width - 60, y, row.number)
            if self.sheets.asterisks and self.row % 5 == 2:
                self.canvas.drawString(self.width - 36, y, "*")
            self.row += 1

    def _rows(self, kind: str, text: str) -> list[_Row]:
        sheets = self.sheets
        if kind == "transition":
            width = stringWidth(text, sheets.font, sheets.size)
            return [_Row(sheets.left + sheets.action_width - width, text)]
        indent, width = {
            "character": (sheets.cue, 300.0),
            "dialogue": sheets.dialogue,
            "parenthetical": sheets.parenthetical,
        }.get(kind, (0.0, sheets.action_width))
        return [_Row(sheets.left + indent, line) for line in self._wrapped(text, width)]

    def _wrapped(self, text: str, width: float) -> Iterator[str]:
        line = ""
        for word in text.split():
            longer = f"{line} {word}".strip()
            if line and stringWidth(longer, self.sheets.font, self.sheets.size) > width + 0.01:
                yield line
                longer = word
            line = longer
        yield line


def _blocks(parts: Sequence[Part]) -> Iterator[list[Part]]:
    block: list[Part] = []
    for part in parts:
        if block and part[0] not in {"dialogue", "parenthetical"}:
            yield block
            block = []
        block.append(part)
    if block:
        yield block
