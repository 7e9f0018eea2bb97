"""A sheet that is printed of a script: what is told of it scene by scene, under a head, page by page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.model import Kind, Run
from screenplay.page import (
    BLANK_ROW,
    LINES_PER_INCH,
    PAGE_NUMBER_INCHES,
    TEXT_COLUMNS,
    TOP_MARGIN_INCHES,
    Cell,
    PaperSize,
    Row,
    clipped,
    wrap,
)
from screenplay.printing.endmatter import lacking
from screenplay.printing.press import FADED, Press

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import date

_ABOVE = (PAGE_NUMBER_INCHES - TOP_MARGIN_INCHES) * LINES_PER_INCH  # lines from the text's top
BODY_COLUMN, _TEXT = 2, 8  # columns
_FEWEST_LEFT = 12  # rows of a page worth beginning a scene on that does not fit
_LOUD = 2  # lines of the opening
_QUIET = frozenset({"was", "gone", "left", "aside"})
ASIDE, SCRIPT_LINE = "aside", "script"  # what is said softly; a line of the script, which has a band behind it


@dataclass(frozen=True, slots=True)
class SheetLine:
    """A changed line: its label, such as "was" or "now", and its words."""

    label: str
    text: str


@dataclass(frozen=True, slots=True)
class SheetScene:
    """A scene on the sheet: `name` has its number and heading, `pages` says where it is, the rest is told under it."""

    name: str
    pages: str
    reasons: tuple[str, ...]
    lines: tuple[SheetLine, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SheetHead:
    """`title` is the document's, `short` what stands over every page; `opening` are the lines that the sheet begins
    with, the first two the loudest, and `senses` what has to be said of it. It says `nothing` where it is empty."""

    title: str
    short: str
    date: date
    opening: tuple[str, ...]
    senses: tuple[str, ...] = ()
    nothing: str = ""


def print_sheet(
    head: SheetHead,
    scenes: Sequence[SheetScene],
    closing: Sequence[Row] = (),
    *,
    paper: PaperSize = PaperSize.LETTER,
    language: str = "en",
    name: str = "",
) -> bytes:
    """The sheet as a PDF with `name` across each page, light and behind the text. The same arguments give the same
    bytes."""
    blocks = [list(_scene(scene)) for scene in scenes]
    if closing:
        blocks.append(list(closing))
    return print_blocks(head, blocks, paper=paper, language=language, name=name)


def print_blocks(
    head: SheetHead,
    blocks: Sequence[Sequence[Row]],
    *,
    paper: PaperSize,
    language: str,
    name: str,
    whole: bool = False,
) -> bytes:
    """Blocks of rows under a head, as `print_sheet` sets its scenes; with `whole`, none that fits a page is parted."""
    press = Press(paper, title=head.title, language=language, made=head.date, name=name)
    opening = list(_opening(head, bool(blocks)))
    pages = list(_fill([opening, *blocks], paper.lines, paper.lines if whole else _FEWEST_LEFT))
    for number, rows in enumerate(pages, 1):
        press.turn_page("", number)
        _set_head(press, head, number, len(pages))
        _set_rows(press, rows)
    for page in lacking(press.missing, paper):
        press.turn_page("", len(pages) + page.number)
        _set_rows(press, page.rows)
    return press.to_bytes()


def _set_head(press: Press, head: SheetHead, number: int, count: int) -> None:
    told = f"{number} of {count}"
    press.set_text(0, _ABOVE, clipped(head.short, TEXT_COLUMNS - len(told) - 2), grey=FADED)
    press.set_text(TEXT_COLUMNS - len(told), _ABOVE, told, grey=FADED)


def _set_rows(press: Press, rows: Sequence[Row]) -> None:
    for line, row in enumerate(rows):
        for cell in row.cells:
            if cell.added == SCRIPT_LINE:
                press.set_band(cell.column - 1, line, TEXT_COLUMNS - cell.column + 1)
            press.set_runs(cell.column, line, cell.runs, FADED if cell.added in _QUIET else 0)
            if cell.kind is Kind.SCENE_HEADING:
                press.bookmark(cell.text, line)


def _fill(blocks: Sequence[Sequence[Row]], lines: int, fewest: int) -> Iterator[list[Row]]:
    """The blocks on pages of so many lines, a blank row between them; one that does not fit begins where there is room
    for the fewest of its rows, else on the next page."""
    page: list[Row] = []
    for block in blocks:
        room = lines - len(page) - 1
        if page and len(block) > room and room < fewest:
            yield page
            page = []
        rows = [*([BLANK_ROW] if page else []), *block]
        while len(page) + len(rows) > lines:
            taken = lines - len(page)
            yield [*page, *rows[:taken]]
            page, rows = [], rows[taken:]
        page += rows
    if page:
        yield page


def _opening(head: SheetHead, has_scenes: bool) -> Iterator[Row]:
    for at, line in enumerate(head.opening):
        yield from text_rows(0, line, bold=at < _LOUD)
    yield BLANK_ROW
    for sense in filter(None, head.senses):
        yield from text_rows(0, sense, italic=True)
    if not has_scenes:
        yield BLANK_ROW
        yield from text_rows(0, head.nothing)


def _scene(scene: SheetScene) -> Iterator[Row]:
    yield from text_rows(0, scene.name, bold=True, kind=Kind.SCENE_HEADING)
    if scene.pages:
        yield from text_rows(BODY_COLUMN, scene.pages[0].upper() + scene.pages[1:])
    for reason in scene.reasons:
        yield from text_rows(BODY_COLUMN, reason, italic=True)
    labelled = [*((line.label, line.text) for line in scene.lines), *(("note", note) for note in scene.notes)]
    if labelled:
        yield BLANK_ROW
    for label, text in labelled:
        yield from _labelled(label, text)


def _labelled(label: str, text: str) -> Iterator[Row]:
    marker = Cell(Kind.NOTE, None, BODY_COLUMN, (Run(label, 0),), added=label)
    for at, runs in enumerate(wrap([Run(text, 0)], TEXT_COLUMNS - _TEXT)):
        cell = Cell(Kind.NOTE, None, _TEXT, runs, added=label)
        yield Row((marker, cell)) if label and not at else Row((cell,))


def text_rows(
    column: int, text: str, *, bold: bool = False, italic: bool = False, kind: Kind = Kind.NOTE, added: str = ""
) -> Iterator[Row]:
    """Text in rows; only the first row of a heading is one, so that it is bookmarked once."""
    for at, runs in enumerate(wrap([Run(text, 0, bold=bold, italic=italic)], TEXT_COLUMNS - column)):
        yield Row((Cell(Kind.NOTE if at else kind, None, column, runs, added),))
