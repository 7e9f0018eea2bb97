"""A change sheet as a PDF: the scenes that changed for one department or one character, why, and the notes there."""

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
    Paper,
    Row,
    clipped,
    wrap,
)
from screenplay.printing.endmatter import lacking
from screenplay.printing.press import FADED, Press

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import date

# What has to be said wherever words were taken for cautions.
CAUTION_SENSE = (
    "Cautions and words are found by a list of words. This is not a risk assessment, and it can miss things. A "
    "competent person must assess the work; local law, codes, permits and licensed practice come first."
)
EVERYTHING_SENSE = "Every scene that changed is on this sheet."
CONCERN_SENSE = (
    "On this sheet are the changed scenes that seem to concern its reader, each with the reason. Others may too: the "
    "Changes screen has them all."
)
OTHERS_SENSE = "Also changed. What concerns the reader in these scenes did not change itself:"
NOTHING = "Nothing that changed concerns this sheet."

_ABOVE = (PAGE_NUMBER_INCHES - TOP_MARGIN_INCHES) * LINES_PER_INCH  # lines from the text's top
_BODY, _TEXT = 2, 8  # columns
_FEWEST_LEFT = 12  # rows of a page worth beginning a scene on that does not fit
_QUIET = frozenset({"was", "gone", "left"})


@dataclass(frozen=True, slots=True)
class SheetTitle:
    """What stands at the sheet's head: `whose` it is, `drafts` such as "From Draft 1, first reading to Draft 2", and
    `numbers`, the same in short for every page; the date is the newer draft's, and `notes_sense` says which notes are
    on it."""

    production: str
    whose: str
    drafts: str
    numbers: str
    date: date
    has_everything: bool = False
    notes_sense: str = ""


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
class SheetMention:
    """A scene that the sheet only lists: its number and heading, where it is, and what in it may concern the reader."""

    name: str
    pages: str
    words: str


def change_sheet_pdf(
    title: SheetTitle,
    scenes: Sequence[SheetScene],
    others: Sequence[SheetMention] = (),
    *,
    paper: Paper = Paper.LETTER,
    language: str = "en",
    name: str = "",
) -> bytes:
    """The sheet as a PDF with `name` across each page, light and behind the text.

    `others` come last, as a list under a sentence: what concerns the reader in them did not change. The same arguments
    give the same bytes.
    """
    whole_title = f"{title.production}: changes for {title.whose}"
    press = Press(paper, title=whole_title, language=language, made=title.date, name=name)
    blocks = [list(_opening(title, bool(scenes or others))), *(list(_scene(scene)) for scene in scenes)]
    if others:
        listed = (row for mention in others for row in _mention(mention))
        blocks.append([*_rows(0, OTHERS_SENSE, italic=True), BLANK_ROW, *listed])
    pages = list(_fill(blocks, paper.lines))
    for number, rows in enumerate(pages, 1):
        press.turn_page("", number)
        _set_head(press, title, number, len(pages))
        _set_rows(press, rows)
    for page in lacking(press.missing, paper):
        press.turn_page("", len(pages) + page.number)
        _set_rows(press, page.rows)
    return press.to_bytes()


def _set_head(press: Press, title: SheetTitle, number: int, count: int) -> None:
    told = f"{number} of {count}"
    head = f"{title.whose} · {title.numbers} · {title.production}"
    press.set_text(0, _ABOVE, clipped(head, TEXT_COLUMNS - len(told) - 2), grey=FADED)
    press.set_text(TEXT_COLUMNS - len(told), _ABOVE, told, grey=FADED)


def _set_rows(press: Press, rows: Sequence[Row]) -> None:
    for line, row in enumerate(rows):
        for cell in row.cells:
            press.set_runs(cell.column, line, cell.runs, FADED if cell.added in _QUIET else 0)
            if cell.kind is Kind.SCENE_HEADING:
                press.bookmark(cell.text, line)


def _fill(blocks: Sequence[list[Row]], lines: int) -> Iterator[list[Row]]:
    """The blocks on pages of so many lines, a blank row between them; one that does not fit begins where there is room
    for a good part of it, else on the next page."""
    page: list[Row] = []
    for block in blocks:
        room = lines - len(page) - 1
        if page and len(block) > room and room < _FEWEST_LEFT:
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


def _opening(title: SheetTitle, has_scenes: bool) -> Iterator[Row]:
    yield from _rows(0, title.production, bold=True)
    yield from _rows(0, f"Changes for {title.whose}", bold=True)
    yield from _rows(0, f"{title.drafts}, {title.date.day} {title.date:%B %Y}")
    yield BLANK_ROW
    senses = (EVERYTHING_SENSE if title.has_everything else CONCERN_SENSE, CAUTION_SENSE, title.notes_sense)
    for sense in filter(None, senses):
        yield from _rows(0, sense, italic=True)
    if not has_scenes:
        yield BLANK_ROW
        yield from _rows(0, NOTHING)


def _scene(scene: SheetScene) -> Iterator[Row]:
    yield from _rows(0, scene.name, bold=True, kind=Kind.SCENE_HEADING)
    if scene.pages:
        yield from _rows(_BODY, scene.pages[0].upper() + scene.pages[1:])
    for reason in scene.reasons:
        yield from _rows(_BODY, reason, italic=True)
    labelled = [*((line.label, line.text) for line in scene.lines), *(("note", note) for note in scene.notes)]
    if labelled:
        yield BLANK_ROW
    for label, text in labelled:
        yield from _labelled(label, text)


def _mention(mention: SheetMention) -> Iterator[Row]:
    yield from _rows(0, ", ".join(filter(None, (mention.name, mention.pages))))
    yield from _rows(_BODY, mention.words)


def _labelled(label: str, text: str) -> Iterator[Row]:
    marker = Cell(Kind.NOTE, None, _BODY, (Run(label, 0),), added=label)
    for at, runs in enumerate(wrap([Run(text, 0)], TEXT_COLUMNS - _TEXT)):
        cell = Cell(Kind.NOTE, None, _TEXT, runs, added=label)
        yield Row((marker, cell)) if label and not at else Row((cell,))


def _rows(column: int, text: str, *, bold: bool = False, italic: bool = False, kind: Kind = Kind.NOTE) -> Iterator[Row]:
    """Text in rows; only the first row of a heading is one, so that it is bookmarked once."""
    for at, runs in enumerate(wrap([Run(text, 0, bold=bold, italic=italic)], TEXT_COLUMNS - column)):
        yield Row((Cell(Kind.NOTE if at else kind, None, column, runs),))
