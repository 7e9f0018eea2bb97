"""Notes on a script as a PDF to read: scene by scene, each with its lines, what was said and what was decided."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.model import Kind, Run
from screenplay.page import BLANK_ROW, Cell, PaperSize, Row
from screenplay.printing.sheet import ASIDE, SCRIPT_LINE, print_blocks, text_rows

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from screenplay.printing.sheet import SheetHead

_BODY, _UNDER = 5, 8  # columns
MOST_LINES = 14  # of the script, beside one note


@dataclass(frozen=True, slots=True)
class PrintedNote:
    """A note as it is printed, in plain text: `title` says what it is, who left it and what became of it, `place` where
    it stands and stood; then its lines as they were, what it says, what it offers in their place (None where it offers
    nothing, "" to cut them), what they read by now where that is otherwise, under `read_now`; the decision, and the
    replies."""

    title: str
    place: str
    lines: tuple[str, ...]
    text: str
    wording: str | None
    read_now: str
    lines_now: tuple[str, ...]
    decision: str
    replies: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PrintedNotes:
    """The notes of a scene, or of whatever else `name` says, such as the lines that are gone."""

    name: str
    notes: tuple[PrintedNote, ...]


def print_notes(
    head: SheetHead,
    groups: Sequence[PrintedNotes],
    *,
    paper: PaperSize = PaperSize.LETTER,
    language: str = "en",
    name: str = "",
) -> bytes:
    """The notes as a PDF with `name` across each page; its outline leads to each group. A note is counted from 1, and
    stands on one page where it fits on one. The same arguments give the same bytes."""
    blocks: list[list[Row]] = []
    number = 0
    for group in groups:
        for at, note in enumerate(group.notes):
            number += 1
            block = list(_note(number, note))
            blocks.append(block if at else [*_heading(group.name), *block])
    return print_blocks(head, blocks, paper=paper, language=language, name=name, whole=True)


def _heading(name: str) -> Iterator[Row]:
    yield BLANK_ROW
    yield from text_rows(0, name, bold=True, kind=Kind.SCENE_HEADING)
    yield BLANK_ROW


def _note(number: int, note: PrintedNote) -> Iterator[Row]:
    first, *more = text_rows(_BODY, note.title, bold=True)
    yield Row((Cell(Kind.NOTE, None, 0, (Run(f"{number}.", 0),), ASIDE), *first.cells))
    yield from more
    yield from text_rows(_BODY, note.place, added=ASIDE)
    yield from _apart(_lines(note.lines))
    yield from _apart(_paragraphs(_BODY, note.text))
    if note.wording is not None:
        said = "In their place:" if note.wording.strip() else "Offers to cut them."
        yield from _apart(text_rows(_BODY, said, italic=True))
        yield from _paragraphs(_UNDER, note.wording)
    yield from _apart(_paragraphs(_BODY, note.read_now, italic=True))
    yield from _lines(note.lines_now)
    yield from _apart(_paragraphs(_BODY, note.decision, italic=True))
    for reply in note.replies:
        yield from _apart(_paragraphs(_UNDER, reply))


def _lines(lines: Sequence[str]) -> Iterator[Row]:
    """The script's lines, as many as show which they are, with a band behind them."""
    shown = [line for line in lines if line.strip()]
    left = len(shown) - MOST_LINES
    if left > 1:
        shown = [*shown[:MOST_LINES], f"… and {left} lines more"]
    for line in shown:
        yield from text_rows(_BODY + 1, line, added=SCRIPT_LINE)


def _paragraphs(column: int, text: str, *, italic: bool = False) -> Iterator[Row]:
    for line in text.splitlines():
        yield from text_rows(column, line, italic=italic) if line.strip() else (BLANK_ROW,)


def _apart(rows: Iterable[Row]) -> Iterator[Row]:
    """Rows with a blank one before them, none where there are none."""
    for at, row in enumerate(rows):
        if not at:
            yield BLANK_ROW
        yield row
