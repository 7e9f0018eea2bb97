"""Type on paper: a PDF of pages on which text is placed by column and line, as on a typewriter."""

from __future__ import annotations

import math
from datetime import UTC, datetime, time
from typing import TYPE_CHECKING

from screenplay.page import CHARACTERS_PER_INCH, LEFT_MARGIN_INCHES, LINES_PER_INCH, TOP_MARGIN_INCHES, columns
from screenplay.printing.typefaces import COURIER, STAND_IN, FamilyText, by_family, face_file, unprintable
from screenplay.tints import WHITE

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from screenplay.model import Run
    from screenplay.page import PaperSize
    from screenplay.tints import Tint

POINTS_PER_INCH = 72
TYPE_POINTS = 12
COLUMN_POINTS = POINTS_PER_INCH / CHARACTERS_PER_INCH
LINE_POINTS = POINTS_PER_INCH / LINES_PER_INCH
BLACK = 0
# Greys, from 0 for black to 255 for white.
FADED = 110
_BAND = 228
_NAME = 224

_LEFT = LEFT_MARGIN_INCHES * POINTS_PER_INCH
_TOP = TOP_MARGIN_INCHES * POINTS_PER_INCH
_BASELINE = 9.4  # from the top of a line
_BAR_POINTS = 1.5
# A name across the page takes so much of the diagonal, in letters no higher than this.
_NAME_SHARE = 0.7
_NAME_POINTS = 84


class Press:
    """A PDF being made. Columns count from the text's left edge and lines from its top; both may be negative, for
    what stands in the margins, and need not be whole."""

    def __init__(
        self,
        paper: PaperSize,
        *,
        title: str,
        language: str,
        made: date | None = None,
        name: str = "",
    ) -> None:
        """`made` is the date the PDF says it is from, now where it is None; `name` stands across every page."""
        self._width = paper.width_inches * POINTS_PER_INCH
        self._height = paper.height_inches * POINTS_PER_INCH
        self._name = " ".join(name.split())
        self._style = ("", "", 0.0)
        self._grey = BLACK
        self._missing: dict[str, None] = {}
        from screenplay.printing.printed_pages import PrintedPages  # noqa: PLC0415 - slow to load; many print nothing

        self._pdf = PrintedPages(self._width, self._height)
        self._pdf.set_auto_page_break(False)
        self._pdf.set_margin(0)
        self._pdf.set_title(title)
        self._pdf.set_creator("Fairhand")
        if language:
            self._pdf.set_lang(language)
        if made:
            self._pdf.set_creation_date(datetime.combine(made, time(), UTC))

    @property
    def missing(self) -> tuple[str, ...]:
        """The characters set so far that no face has, in the order they came."""
        return tuple(self._missing)

    @property
    def last_column(self) -> float:
        """The column at the paper's right edge."""
        return (self._width - _LEFT) / COLUMN_POINTS

    def turn_page(self, label: str, number: int | None = None, *, tint: Tint | None = None) -> None:
        """Begin a page, which PDF viewers call by its label and number; `tint` lies under all of it."""
        self._pdf.add_page(label_style="D" if number else None, label_prefix=label or None, label_start=number)
        if tint:
            self._pdf.set_fill_color(*tint)
            self._pdf.rect(0, 0, self._width, self._height, style="F")
            self._pdf.set_fill_color(BLACK)  # plain text is printed with it
        if self._name:
            self._set_name(tint or WHITE)

    def set_text(
        self,
        column: float,
        line: float,
        text: str,
        *,
        bold: bool = False,
        italic: bool = False,
        underline: bool = False,
        grey: int = BLACK,
    ) -> None:
        """Set text whose first character stands in the column of that line; `grey` goes from 0, black, to 255."""
        if not text:
            return
        if grey != self._grey:
            self._pdf.set_text_color(grey)
            self._grey = grey
        style = "B" * bold + "I" * italic
        y = _TOP + line * LINE_POINTS + _BASELINE
        for piece in self._pieces(text):
            self._choose(piece.family, style, TYPE_POINTS)
            x = _LEFT + (column + piece.column) * COLUMN_POINTS
            if underline or grey != BLACK:
                self._pdf.underline = underline
                self._pdf.text(x, y, piece.text)
            else:
                self._pdf.print_plainly(x, y, piece.text)

    def set_runs(self, column: float, line: float, runs: Sequence[Run], grey: int = BLACK) -> None:
        """Set a line's runs, one after the other."""
        for run in runs:
            self.set_text(column, line, run.text, bold=run.bold, italic=run.italic, underline=run.underline, grey=grey)
            if run is not runs[-1]:
                column += columns(run.text)

    def set_band(self, column: float, line: float, width: float) -> None:
        """Tint a line from a column on, so many columns wide, with a bar at its left, under what is set later."""
        x, y = _LEFT + column * COLUMN_POINTS, _TOP + line * LINE_POINTS
        self._pdf.set_fill_color(_BAND)
        self._pdf.rect(x, y, width * COLUMN_POINTS, LINE_POINTS, style="F")
        self._pdf.set_fill_color(BLACK)
        self._pdf.rect(x, y, _BAR_POINTS, LINE_POINTS, style="F")

    def bookmark(self, name: str, line: float) -> None:
        """Let the PDF's outline lead to this line of the page."""
        self._pdf.set_y(_TOP + line * LINE_POINTS)
        self._pdf.start_section(name)

    def to_bytes(self) -> bytes:
        """The finished PDF; nothing can be added to it any more."""
        return bytes(self._pdf.output())

    def _pieces(self, text: str) -> list[FamilyText]:
        found = by_family(text)
        if len(found) == 1 and found[0].family == COURIER:
            return found
        if any(STAND_IN in piece.text for piece in found):
            self._missing.update(dict.fromkeys(unprintable(text)))
        return found

    def _choose(self, family: str, style: str, points: float) -> None:
        if (family, style, points) == self._style:
            return
        if f"{family}{style}" not in self._pdf.fonts:
            self._pdf.add_face(family, style, face_file(family, style))
        self._pdf.set_font(family, style, points)
        self._style = (family, style, points)

    def _set_name(self, paper: Tint) -> None:
        """The name from the lower left to the upper right, light, before anything else stands on the page."""
        wide = columns(self._name) * COLUMN_POINTS / TYPE_POINTS
        points = min(_NAME_POINTS, _NAME_SHARE * math.hypot(self._width, self._height) / wide)
        angle = math.degrees(math.atan2(self._height, self._width))
        x, y = self._width / 2, self._height / 2
        self._pdf.set_text_color(*paper.darker(_NAME / 255))
        self._grey = _NAME
        self._pdf.underline = False
        with self._pdf.unread(), self._pdf.rotation(angle, x, y):
            for piece in self._pieces(self._name):
                self._choose(piece.family, "", points)
                offset = piece.column * COLUMN_POINTS / TYPE_POINTS * points
                self._pdf.text(x - wide * points / 2 + offset, y + points / 4, piece.text)
        self._choose(COURIER, "", TYPE_POINTS)
