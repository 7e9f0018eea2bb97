"""What a PDF has after the script: the open notes, and which characters its faces do not have."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.model import Kind, Run
from screenplay.page import BLANK_ROW, TEXT_COLUMNS, Cell, Page, Row, wrap
from screenplay.printing.typefaces import STAND_IN

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from screenplay.page import PaperSize

_NOTE_COLUMN = 5
_WORDING_COLUMN = 8
_QUOTED_ROWS = 3
_NAMED = 40


@dataclass(frozen=True, slots=True)
class ListedNote:
    """An open note as it is listed, in plain text.

    `where` says what it is on, such as "Page 12, scene 5", `quoted` has the lines it is on, `text` what it says, `by`
    who left it. `wording` is what it would have in their place, "" to cut them, None where it proposes nothing.
    """

    where: str
    quoted: str
    text: str
    by: str
    wording: str | None = None


@dataclass(frozen=True, slots=True)
class ListedNotes:
    """Open notes in the order in which they are listed, and a sentence under the list's title: which they are."""

    notes: tuple[ListedNote, ...]
    sense: str = ""


def listed(notes: ListedNotes, paper: PaperSize) -> tuple[Page, ...]:
    """The pages that list the notes, counted from 1, in their order. A note stands on one page where it fits on one."""
    pages: list[list[Row]] = []
    for block in _notes(notes):
        _place(block, pages, paper.lines)
    return tuple(Page(number, tuple(rows)) for number, rows in enumerate(pages, 1))


def lacking(missing: Sequence[str], paper: PaperSize) -> tuple[Page, ...]:
    """The page that says which characters no face has, none where all are there."""
    rows = (*_title("About this copy"), *_about_missing(missing))
    return (Page(1, rows[: paper.lines]),) if missing else ()


def _place(block: list[Row], pages: list[list[Row]], lines: int) -> None:
    """Put a block under what stands on the last page if it fits there whole, or else on new ones."""
    if pages and len(pages[-1]) + 1 + len(block) <= lines:
        pages[-1] += [BLANK_ROW, *block]
        return
    pages += [block[start : start + lines] for start in range(0, len(block), lines)]


def _notes(listed: ListedNotes) -> list[list[Row]]:
    """A block of rows for each note, the first under the list's title."""
    notes = listed.notes
    sense = [*_text(0, listed.sense, italic=True), BLANK_ROW] if listed.sense else []
    if not notes:
        return [[*_title("Open notes"), *sense, *_text(0, "There are none.")]]
    blocks = [list(_note(number, note)) for number, note in enumerate(notes, 1)]
    blocks[0] = [*_title(f"{len(notes)} open notes" if len(notes) > 1 else "One open note"), *sense, *blocks[0]]
    return blocks


def _note(number: int, note: ListedNote) -> Iterator[Row]:
    where = list(_text(_NOTE_COLUMN, note.where, bold=True))
    count = Cell(Kind.NOTE, None, 0, (Run(f"{number}.", 0),))
    yield Row((count, *where[0].cells)) if where else Row((count,))
    yield from where[1:]
    yield from _quoted(note.quoted)
    for paragraph in note.text.splitlines():
        yield from _text(_NOTE_COLUMN, paragraph)
    if note.wording is not None:
        yield from _text(_NOTE_COLUMN, "In their place:" if note.wording.strip() else "To be cut.", italic=True)
        for line in note.wording.splitlines():
            yield from _text(_WORDING_COLUMN, line)
    yield from _text(_NOTE_COLUMN, f"– {note.by}")


def _quoted(quoted: str) -> list[Row]:
    """The first words of what a note is on: all of it stands in the script."""
    text = " ".join(quoted.split())
    if not text:
        return []
    rows = list(_text(_NOTE_COLUMN, f"“{text}”", italic=True))
    if len(rows) <= _QUOTED_ROWS:
        return rows
    room = (TEXT_COLUMNS - _NOTE_COLUMN) * (_QUOTED_ROWS - 1)
    return list(_text(_NOTE_COLUMN, f"“{text[:room].rstrip()} …”", italic=True))


def _about_missing(missing: Sequence[str]) -> Iterator[Row]:
    codes = ", ".join(f"U+{ord(character):04X}" for character in missing[:_NAMED])
    more = f" and {len(missing) - _NAMED} more" if len(missing) > _NAMED else ""
    count = (
        "One character is not in the type this copy is set in, and stands"
        if len(missing) == 1
        else f"{len(missing)} characters are not in the type this copy is set in, and stand"
    )
    yield from _text(0, f"{count} as {STAND_IN} on its pages: {codes}{more}. The draft itself has them.")


def _title(text: str) -> Iterator[Row]:
    run = Run(text, 0, bold=True)
    yield Row((Cell(Kind.SECTION, None, 0, (run,)),))
    yield BLANK_ROW


def _text(column: int, text: str, *, bold: bool = False, italic: bool = False) -> Iterator[Row]:
    for row in wrap([Run(text, 0, bold=bold, italic=italic)], TEXT_COLUMNS - column):
        yield Row((Cell(Kind.NOTE, None, column, row),))
