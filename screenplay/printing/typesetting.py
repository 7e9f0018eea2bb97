"""A PDF of a script's pages, as the trade types them, and of the pages that one character needs."""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

from screenplay.fountain import plain
from screenplay.model import Kind
from screenplay.next_draft import marked_rows
from screenplay.page import (
    LEFT_SPEECH,
    LINES_PER_INCH,
    PAGE_NUMBER_INCHES,
    RIGHT_SPEECH,
    SPEECH,
    TEXT_COLUMNS,
    TITLE_PAGE,
    TOP_MARGIN_INCHES,
    clipped,
    columns,
    title_of,
)
from screenplay.printing.endmatter import ListedNotes, lacking, listed
from screenplay.printing.header import Header
from screenplay.printing.press import BLACK, FADED, Press
from screenplay.script import headings_of, part_of

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Mapping, Sequence

    from screenplay.model import Heading
    from screenplay.next_draft import RevisionMarks
    from screenplay.page import Cell, Layout, Page, PaperSize, Row, SceneNumber
    from screenplay.script import CharacterPart, LaidOut
    from screenplay.tints import Tint


_ABOVE = (PAGE_NUMBER_INCHES - TOP_MARGIN_INCHES) * LINES_PER_INCH  # lines from the text's top
# Scene numbers stand about three quarters of an inch into either margin, asterisks near the right edge.
_NUMBER_COLUMNS = 7
_NUMBER_GAP = 1.5
_ASTERISK_FROM_EDGE = 3.5
# A marked speech is tinted over its dialogue's width and a column on either side of it.
_BAND_OF = {measures.side: measures.dialogue for measures in (SPEECH, LEFT_SPEECH, RIGHT_SPEECH)}


class NotInScript(ValueError):
    """Raised for a character who is in no scene of the script."""


def typeset(
    pages: LaidOut,
    *,
    header: Header | None = None,
    revised_header: Header | None = None,
    scene_numbers: bool = False,
    title: str = "",
    language: str = "en",
    name: str = "",
    notes: ListedNotes | None = None,
    marks: RevisionMarks | None = None,
    revised: Collection[str] | None = None,
    revised_only: bool = False,
    tint: Tint | None = None,
    turned: Callable[[int, int], object] | None = None,
) -> bytes:
    """The script as a PDF: the title page if there is one, the pages as laid out, and what comes after.

    `title` is the document's, from the title page where it is empty; `language` is a BCP 47 tag, "" for not stated.
    `scene_numbers` puts a scene's number in both margins; a script that numbers no scene has them counted from 1.
    `name` stands across each page, light and behind the text. `notes` are listed on pages of their own after the
    script, and None leaves that list out. Rows that have `marks` get an asterisk in the right margin. `revised` are
    the labels of the pages that are swapped in a printed copy, TITLE_PAGE that of the title page: then `marks` are on
    these alone; where it is None, the pages that have marks are the revised ones. `revised_header` stands at their
    head, where it is not None, `tint` is the colour of their paper, and with `revised_only` they are all there is,
    called as in the whole. A last page says so where characters are in no face that the PDF carries; `unprintable`
    finds these. The same arguments give the same bytes where the header has a date, which is then the PDF's too. A
    script that prints nothing is one blank page. `turned` is told after each page how many of them are done, and how
    many there are.
    """
    layout = pages.layout
    press = _press(pages, header, title, language, name)
    rows = marked_rows(layout, marks, revised) if marks else {}
    if revised is None:
        revised = [layout.label_of(number) for number in rows]
    heads = dict.fromkeys(revised, revised_header) if revised_header else {}
    tints = dict.fromkeys(revised, tint) if tint else {}
    setter = _typesetter(press, pages, header, scene_numbers, marked=rows, heads=heads, tints=tints)
    if layout.title_page and (TITLE_PAGE in revised or not revised_only):
        setter.set_title_page(layout)
    for page in layout.pages:
        if page.label in revised or not revised_only:
            setter.set_page(page)
        if turned:
            turned(page.number, len(layout.pages))
    if notes is not None:
        setter.set_after(listed(notes, layout.paper))
    return setter.finish(layout.paper)


def sides(
    pages: LaidOut,
    character: str,
    *,
    header: Header | None = None,
    scene_numbers: bool = False,
    title: str = "",
    language: str = "en",
    name: str = "",
    turned: Callable[[int, int], object] | None = None,
) -> bytes:
    """A character's sides as a PDF: the pages of the scenes they are in, under the numbers they have in the script.

    Their speeches are tinted, with a bar beside them; what else stands on those pages and is no scene of theirs is
    grey. They are in the scenes they speak in, and in those whose action names them with a capital letter. All else is
    as for `typeset`. Raises `NotInScript` for a character who is in no scene.
    """
    part = part_of(pages.script, character)
    if not part.lines:
        raise NotInScript(f"{character} is in no scene of this script.")
    press = _press(pages, header, title, language, name)
    setter = _typesetter(press, pages, header, scene_numbers, part=part)
    for page in pages.layout.pages:
        if any(cell.line in part.lines for row in page.rows for cell in row.cells):
            setter.set_page(page)
        if turned:
            turned(page.number, len(pages.layout.pages))
    return setter.finish(pages.layout.paper)


def _press(pages: LaidOut, header: Header | None, title: str, language: str, name: str) -> Press:
    made = header.date if header else None
    title = title or title_of(pages.script)
    return Press(pages.layout.paper, title=title, language=language, made=made, name=name)


def _typesetter(
    press: Press,
    pages: LaidOut,
    header: Header | None,
    scene_numbers: bool,
    *,
    marked: Mapping[int, Collection[int]] = MappingProxyType({}),
    heads: Mapping[str, Header] = MappingProxyType({}),
    tints: Mapping[str, Tint] = MappingProxyType({}),
    part: CharacterPart | None = None,
) -> _Typesetter:
    headings = headings_of(pages.script)
    numbers = _numbers(headings, pages.layout.setting.scene_numbers)
    bookmarks = _bookmarks(headings, numbers)
    return _Typesetter(press, header or Header(), scene_numbers, numbers, bookmarks, marked, heads, tints, part)


@dataclass(frozen=True, slots=True)
class _Typesetter:
    """How the pages are set: `numbers` has what stands beside a heading's source line where there are
    `scene_numbers`, `bookmarks` what leads to it, `marked` the rows of each page, by its number, that have an
    asterisk, `heads` what stands at the head of some pages in the place of `header`, `tints` the colour of some
    pages' paper, by their labels. With a `part`, that character's speeches are marked and scenes not theirs are
    grey."""

    press: Press
    header: Header
    scene_numbers: bool
    numbers: Mapping[int, str]
    bookmarks: Mapping[int, str]
    marked: Mapping[int, Collection[int]]
    heads: Mapping[str, Header]
    tints: Mapping[str, Tint]
    part: CharacterPart | None

    def set_title_page(self, layout: Layout) -> None:
        self.press.turn_page("Title", tint=self.tints.get(TITLE_PAGE))
        for line, row in enumerate(layout.title_page):
            for cell in row.cells:
                self.press.set_runs(cell.column, line, cell.runs)

    def set_page(self, page: Page) -> None:
        tint = self.tints.get(page.label)
        if page.label.isdecimal():
            self.press.turn_page("", int(page.label), tint=tint)
        else:
            self.press.turn_page(page.label, tint=tint)
        self._set_head(page.head, self.heads.get(page.label, self.header))
        if self.part:
            self._set_bands(page.rows, self.part)
        above: Row | None = None
        for line, row in enumerate(page.rows):
            if row.added == "omitted":
                self._set_number(line, row.number or "", None)
            elif row.kind is Kind.SCENE_HEADING and row.line and (above is None or above.line != row.line):
                self._begin_scene(line, row.line)
            self._set_row(line, page.rows)
            above = row
        for line in self.marked.get(page.number, ()):
            self.press.set_text(self.press.last_column - _ASTERISK_FROM_EDGE, line, "*")

    def set_after(self, pages: Sequence[Page]) -> None:
        """Pages that come after the script."""
        for page in pages:
            self.press.turn_page("After the script")
            self._set_head("", self.header)
            for line, row in enumerate(page.rows):
                for cell in row.cells:
                    self.press.set_runs(cell.column, line, cell.runs)
                    if cell.kind is Kind.SECTION:
                        self.press.bookmark(cell.text, line)

    def finish(self, paper: PaperSize) -> bytes:
        """The PDF, with a page more where it has to say what its faces lack."""
        self.set_after(lacking(self.press.missing, paper))
        return self.press.to_bytes()

    def _set_row(self, line: int, rows: Sequence[Row]) -> None:
        row = rows[line]
        for cell in row.cells:
            self.press.set_runs(cell.column, line, cell.runs, self._grey(_line_of(cell, rows, line)))

    def _begin_scene(self, line: int, source_line: int) -> None:
        """The scene's number in both margins, where numbers are set, and its bookmark."""
        self._set_number(line, self.numbers.get(source_line, ""), source_line)
        if self.part is None or source_line in self.part.lines:
            self.press.bookmark(self.bookmarks[source_line], line)

    def _set_number(self, line: int, number: str, source_line: int | None) -> None:
        if not self.scene_numbers:
            return
        wide = columns(number)
        left = min(-_NUMBER_COLUMNS, -wide - _NUMBER_GAP)
        right = min(TEXT_COLUMNS + _NUMBER_GAP, self.press.last_column - wide - 1)
        for column in (left, right):
            self.press.set_text(column, line, number, grey=self._grey(source_line))

    def _set_head(self, number: str, header: Header) -> None:
        if self.part:
            self.press.set_text(0, _ABOVE - 1, clipped(f"Sides: {self.part.name}", TEXT_COLUMNS))
        self.press.set_text(0, _ABOVE, header.text(TEXT_COLUMNS - len(number) - 2))
        self.press.set_text(TEXT_COLUMNS - len(number), _ABOVE, number)

    def _set_bands(self, rows: Sequence[Row], part: CharacterPart) -> None:
        for line, row in enumerate(rows):
            for cell in row.cells:
                if _line_of(cell, rows, line) in part.speeches:
                    measure = _BAND_OF[cell.side]
                    self.press.set_band(measure.column - 1, line, measure.width + 2)

    def _grey(self, line: int | None) -> int:
        return FADED if self.part and line not in self.part.lines else BLACK


def _line_of(cell: Cell, rows: Sequence[Row], at: int) -> int | None:
    """The source line that a cell in row `at` belongs to: for (MORE) one above it, for a cue said again one below."""
    if cell.line is not None or cell.added == "omitted":
        return cell.line
    others = reversed(rows[:at]) if cell.added == "more" else rows[at + 1 :]
    return next((other.line for row in others for other in row.cells if other.side == cell.side and other.line), None)


def _numbers(headings: Sequence[Heading], locked: Sequence[SceneNumber]) -> dict[int, str]:
    """The scene number of each heading's line: the locked ones, else as the script has them; counted where it has none
    at all."""
    if locked:
        return {headings[ordinal - 1].first_line: number for number, ordinal in locked if ordinal}
    given = {heading.first_line: heading.number for heading in headings if heading.number is not None}
    return given or {heading.first_line: str(scene) for scene, heading in enumerate(headings, 1)}


def _bookmarks(headings: Sequence[Heading], numbers: Mapping[int, str]) -> dict[int, str]:
    """What a viewer's outline says of each heading's line: its number and its words."""
    return {
        heading.first_line: "  ".join(filter(None, (numbers.get(heading.first_line), plain(heading.printed).strip())))
        for heading in headings
    }
