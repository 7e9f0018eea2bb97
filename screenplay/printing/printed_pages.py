"""The pages of a PDF as the library makes them, with a quicker way to print plain text: slow to load, so that `press`
does it when the first page is made."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

from fpdf import FPDF, ViewerPreferences
from fpdf.fonts import TTFFont

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


class _Codes(dict[int, int]):
    """By which code each character of a face stands in the PDF, for `str.translate`; a code is given when needed."""

    def __init__(self, face: TTFFont) -> None:
        super().__init__()
        self._pick = face.subset.pick

    def __missing__(self, character: int) -> int:
        code = self._pick(character)
        if code is None:
            raise LookupError(f"The face has no U+{character:04X}.")
        self[character] = code
        return code


class PrintedPages(FPDF):
    """The library's pages, with a quicker way to print plain black text, and one to print what is not to be read."""

    def __init__(self, width: float, height: float) -> None:
        super().__init__(unit="pt", format=(width, height))
        self.viewer_preferences = ViewerPreferences(display_doc_title=True)
        self._codes: dict[str, _Codes] = {}

    def add_face(self, family: str, style: str, file: Path) -> None:
        """Have a face to print with. Letters that are printed go into the PDF as the file has them, with its bounding
        box: to take each letter apart and measure it anew is a fifth of the time that a short PDF takes."""
        self.add_font(family, style, file)
        face = self.fonts[f"{family}{style}"]
        if isinstance(face, TTFFont):
            face.ttfont.recalcBBoxes = False

    def print_plainly(self, x: float, y: float, text: str) -> None:
        """Print black text without underlines, as `text` does: nearly all of a script, and it is encoded at once."""
        face = self.current_font
        if not isinstance(face, TTFFont):
            raise TypeError("No face is chosen.")
        if not self.current_font_is_set_on_page:
            self._out(self._set_font_for_page(face, self.font_size_pt))
        if face.fontkey not in self._codes:
            self._codes[face.fontkey] = _Codes(face)
        encoded = text.translate(self._codes[face.fontkey]).encode("utf-16-be").hex()
        self._out(f"BT {x:.2f} {self.h - y:.2f} Td <{encoded}> Tj ET")

    @contextmanager
    def unread(self) -> Iterator[None]:
        """What is set within is left out where the page's text is copied, searched or read aloud, in viewers that keep
        to the standard's replacement text (ISO 32000-1, 14.9.4)."""
        self._out("/Span <</ActualText ()>> BDC")
        yield
        self._out("EMC")
