"""What stands on the pages of a PDF, read back with pdfminer and pdfplumber, libraries that know nothing of ours."""

from __future__ import annotations

import io
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import pdfplumber
from pdfminer.converter import PDFPageAggregator
from pdfminer.layout import LTChar, LTRect
from pdfminer.pdfinterp import PDFPageInterpreter, PDFResourceManager
from pdfminer.pdfpage import PDFPage
from pdfminer.pdftypes import resolve1

if TYPE_CHECKING:
    from collections.abc import Callable

    from pdfminer.layout import LTComponent, LTPage

    Wanted = Callable[[dict[str, Any]], bool]

POINTS_PER_INCH = 72
COLUMN = POINTS_PER_INCH / 10  # 10 characters to the inch
LINE = POINTS_PER_INCH / 6  # 6 lines to the inch
TEXT_LEFT = 1.5 * POINTS_PER_INCH


@dataclass(frozen=True)
class Sheet:
    """A page of a PDF: its characters and the rectangles on it, each where it stands from the page's upper left, and in
    what colour; a character also in which face, how large and how turned."""

    width: float
    height: float
    chars: list[dict[str, Any]]
    rects: list[dict[str, Any]]

    @property
    def upright(self) -> list[dict[str, Any]]:
        """The characters that stand upright, which are all but a name across the page."""
        return [char for char in self.chars if char["matrix"][1] == 0]

    @property
    def slanted(self) -> str:
        """What stands across the page."""
        return "".join(char["text"] for char in self.chars if char["matrix"][1] != 0)

    @property
    def lines(self) -> list[str]:
        """The text under the top margin, line by line from the text's left edge, each character in its column."""
        rows = self._rows(lambda char: char["x0"] > TEXT_LEFT - COLUMN / 2)
        return ["".join(_spaced(rows.get(number, []))).rstrip() for number in range(max(rows, default=-1) + 1)]

    @property
    def left_margin(self) -> dict[int, str]:
        """What stands left of the text, by the number of its line on the page."""
        rows = self._rows(lambda char: char["x0"] < TEXT_LEFT - COLUMN / 2)
        return {number: "".join(char["text"] for char in row) for number, row in rows.items()}

    @property
    def head(self) -> list[str]:
        """What stands above the text, line by line."""
        found = self._by_baseline(lambda char: char["top"] < POINTS_PER_INCH - LINE)
        return ["".join(_spaced(found[baseline])) for baseline in sorted(found, reverse=True)]

    @property
    def words(self) -> str:
        """All that stands upright, in the order of the lines."""
        found = self._by_baseline(lambda _: True)
        lines = ("".join(_spaced(found[baseline], left=0)) for baseline in sorted(found, reverse=True))
        return " ".join(" ".join(lines).split())

    def char(self, start: str) -> dict[str, Any]:
        """The first character of the first line that starts so."""
        for row in self._by_baseline(lambda _: True).values():
            if "".join(char["text"] for char in row).startswith(start):
                return row[0]
        raise AssertionError(f"No line starts with {start!r}.")

    def _rows(self, wanted: Wanted) -> dict[int, list[dict[str, Any]]]:
        """Those of the characters wanted that stand under the top margin, by the number of their line."""
        found = self._by_baseline(lambda char: char["top"] > POINTS_PER_INCH - LINE / 2 and wanted(char))
        first = self.height - POINTS_PER_INCH - LINE
        return {round((first - baseline) / LINE): row for baseline, row in found.items()}

    def _by_baseline(self, wanted: Wanted) -> dict[float, list[dict[str, Any]]]:
        found: dict[float, list[dict[str, Any]]] = defaultdict(list)
        for char in filter(wanted, self.upright):
            found[round(char["matrix"][5], 1)].append(char)
        return {baseline: sorted(row, key=lambda char: char["x0"]) for baseline, row in found.items()}


def _spaced(row: list[dict[str, Any]], left: float = TEXT_LEFT) -> list[str]:
    text: list[str] = []
    for char in row:
        column = round((char["x0"] - left) / COLUMN)
        text += [" "] * (column - len(text))
        text.append(char["text"])
    return text


def sheets(data: bytes, pages: int | None = None) -> list[Sheet]:
    """The pages of a PDF, or so many of the first."""
    resources = PDFResourceManager()
    drawn = PDFPageAggregator(resources, laparams=None)
    interpreter = PDFPageInterpreter(resources, drawn)
    read = []
    for page in PDFPage.get_pages(io.BytesIO(data), maxpages=pages or 0):
        interpreter.process_page(page)
        read.append(_sheet(drawn.get_result()))
    return read


def _sheet(page: LTPage) -> Sheet:
    chars = [
        _placed(part, page)
        | {"text": part.get_text(), "fontname": part.fontname, "size": part.size, "matrix": part.matrix}
        for part in page
        if isinstance(part, LTChar)
    ]
    rects = [_placed(part, page) for part in page if isinstance(part, LTRect)]
    return Sheet(float(page.width), float(page.height), chars, rects)


def _placed(part: LTComponent, page: LTPage) -> dict[str, Any]:
    """Where something stands, and its colour."""
    colour = part.graphicstate.ncolor if isinstance(part, LTChar) else getattr(part, "non_stroking_color", None)
    return {
        "x0": part.x0,
        "x1": part.x1,
        "top": page.height - part.y1,
        "bottom": page.height - part.y0,
        "width": part.width,
        "height": part.height,
        "non_stroking_color": colour if isinstance(colour, tuple) else (colour,),
    }


def bookmarks(data: bytes) -> list[tuple[str, int]]:
    """The PDF's outline: what each entry says, and the page it leads to, counted from 1."""
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        number_of = {page.page_obj.pageid: number for number, page in enumerate(pdf.pages, 1)}
        return [(title, number_of[resolve1(dest)[0].objid]) for _, title, dest, _, _ in pdf.doc.get_outlines()]


def page_labels(data: bytes) -> list[str]:
    """What viewers call the pages."""
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        labels = pdf.doc.get_page_labels()
        return [next(labels) for _ in pdf.pages]


def properties(data: bytes) -> dict[str, Any]:
    """The document's title and language, and what else it says of itself."""
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        language = resolve1(pdf.doc.catalog.get("Lang"))
        return {**pdf.metadata, "Lang": language.decode() if isinstance(language, bytes) else language}
