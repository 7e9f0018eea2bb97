"""A change sheet as a PDF: the scenes that changed for one department or one character, why, and the notes there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.breakdown import CAUTION_SENSE
from screenplay.page import BLANK_ROW, PaperSize, Row
from screenplay.printing.sheet import BODY_COLUMN, SheetHead, SheetScene, print_sheet, text_rows

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import date

EVERYTHING_SENSE = "Every scene that changed is on this sheet."
CONCERN_SENSE = (
    "On this sheet are the changed scenes that seem to concern its reader, each with the reason. Others may too: the "
    "Changes screen has them all."
)
OTHERS_SENSE = (
    "Also changed. What concerns the reader in these scenes did not change itself, or is something that no list of "
    "words knows:"
)
NOTHING = "Nothing that changed concerns this sheet."
NOTHING_ELSE = "Nothing else that changed concerns this sheet."
RENAMES_SENSE = "A cue or a heading in which a name is all that changed is not on this sheet."


@dataclass(frozen=True, slots=True)
class SheetTitle:
    """What stands at the sheet's head: `whose` it is, `drafts` such as "From Draft 1, first reading to Draft 2", and
    `numbers`, the same in short for every page; the date is the newer draft's, `renames` are sentences about names that
    changed throughout, `notes_sense` says which notes are on it, and `language_sense` that the word lists cannot read
    the script, where they cannot."""

    production: str
    whose: str
    drafts: str
    numbers: str
    date: date
    renames: tuple[str, ...] = ()
    has_everything: bool = False
    notes_sense: str = ""
    language_sense: str = ""


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
    paper: PaperSize = PaperSize.LETTER,
    language: str = "en",
    name: str = "",
) -> bytes:
    """The sheet as a PDF with `name` across each page, light and behind the text.

    `others` come last, as a list under a sentence: what concerns the reader in them did not change. The same arguments
    give the same bytes.
    """
    head = SheetHead(
        title=f"{title.production}: changes for {title.whose}",
        short=f"{title.whose} · {title.numbers} · {title.production}",
        date=title.date,
        opening=(
            title.production,
            f"Changes for {title.whose}",
            f"{title.drafts}, {title.date.day} {title.date:%B %Y}",
            *title.renames,
        ),
        senses=(
            EVERYTHING_SENSE if title.has_everything else CONCERN_SENSE,
            CAUTION_SENSE,
            RENAMES_SENSE if title.renames else "",
            title.language_sense,
            title.notes_sense,
        ),
        nothing=NOTHING_ELSE if title.renames else NOTHING,
    )
    closing = list(_others(others)) if others else []
    return print_sheet(head, scenes, closing, paper=paper, language=language, name=name)


def _others(others: Sequence[SheetMention]) -> Iterator[Row]:
    yield from text_rows(0, OTHERS_SENSE, italic=True)
    yield BLANK_ROW
    for mention in others:
        yield from _mention(mention)


def _mention(mention: SheetMention) -> Iterator[Row]:
    yield from text_rows(0, ", ".join(filter(None, (mention.name, mention.pages))))
    yield from text_rows(BODY_COLUMN, mention.words)
