"""Scripts typed in columns, as plain text drafts are passed around, to Fountain, with a report of what was guessed."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.fountain.cues import is_upper
from screenplay.fountain.lines import split_lines, title_key
from screenplay.intake import title_sheet
from screenplay.intake.breaks import Breaks
from screenplay.intake.elements import Reading
from screenplay.intake.furniture import Dropped, clear
from screenplay.intake.places import NEAR, Block, Places, blocks_of, find_places
from screenplay.intake.refusals import Unreadable
from screenplay.intake.sheets import Sheet, sheets_of_text
from screenplay.intake.writing import Guess, Writing
from screenplay.printing.plain_text import FORM_FEED

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

__all__ = ["MAXIMUM_SHEETS", "Conversion", "Guess", "from_columns", "looks_typed_in_columns", "read_sheets"]

MAXIMUM_SHEETS = 1000
TOO_MANY_SHEETS = f"{{it}} has over {MAXIMUM_SHEETS:,} pages, far more than a script: choose the script's pages alone."

_MOST_FORM_FEEDS = 10 * MAXIMUM_SHEETS  # some stand between empty sheets
_LEAST_SPEECHES = 3
_MOST_OF = 0.6
_WIDEST_LINE = 100  # columns, from the edge of the action
_WIDE_SHARE = 0.02
_FOUNTAIN_ALONE = re.compile(r"#{1,6} ?\S|=|[~@>]\S|> |\.[^\W_.]|!\S|.*(?:\[\[|/\*)")


@dataclass(frozen=True, slots=True)
class Conversion:
    """Fountain made of a typed script. `places` are the columns that were found in it, from the sheet's left edge;
    `dropped` says how many of what were left out; `sheets` is the number of sheets, a title page among them."""

    text: str
    guesses: tuple[Guess, ...]
    dropped: Mapping[str, int]
    places: Places
    sheets: int


def looks_typed_in_columns(text: str) -> bool:
    """Whether a text is typed in columns, and is no Fountain.

    There have to be speeches, most cues being indented over what is said under them, and this over the action; hardly
    a line wider than a sheet; no title page of Fountain's and none of the marks that only Fountain has.
    """
    lines = split_lines(text)
    first = next((line for line in lines if line.strip()), "")
    if not first or title_key(first) or any(_FOUNTAIN_ALONE.match(line) for line in lines):
        return False
    blocks = blocks_of(sheets_of_text(text))
    places = find_places(blocks)
    if places.dialogue is None or places.cues < _LEAST_SPEECHES:
        return False
    typed = [line for block in blocks for line in block.lines]
    wide = sum(line.right - places.action > _WIDEST_LINE for line in typed)
    cues = sum(len(block.lines) > 1 and is_upper(block.first.text[:80]) for block in blocks)
    return places.cues >= _MOST_OF * cues and wide <= _WIDE_SHARE * len(typed)


def from_columns(text: str) -> Conversion:
    """Read a script typed in columns: any text at all, in time proportional to its length.

    Raises Unreadable, with one sentence, for a text of more than 1,000 pages.
    """
    try:
        if text.count(FORM_FEED) > _MOST_FORM_FEEDS:
            raise Unreadable(TOO_MANY_SHEETS)
        return read_sheets(sheets_of_text(text))
    except Unreadable as refusal:
        raise refusal.about("This script") from None


def read_sheets(sheets: list[Sheet]) -> Conversion:
    """Read what stands on sheets. Raises Unreadable, `{it}` its subject, where there are more than 1,000."""
    if len(sheets) > MAXIMUM_SHEETS:
        raise Unreadable(TOO_MANY_SHEETS)
    dropped = Dropped()
    title, rest = title_sheet.parted(sheets)
    cleared = clear(rest, dropped) if rest else []
    blocks = blocks_of(cleared)
    places = find_places(blocks)
    breaks = Breaks(blocks, places)
    writing = Writing(breaks, places)
    if title:
        writing.title(title, title_sheet.entries(title, places.action))
    reading = Reading(places, breaks.action, _heading_gap(blocks, places), _spare_rows(cleared))
    for found in reading.read(blocks):
        writing.add(found)
    sheet_count = len(cleared) + bool(title)
    return Conversion(writing.text, tuple(writing.guesses), dict(dropped.counts), places, sheet_count)


def _heading_gap(blocks: Sequence[Block], places: Places) -> int:
    """The number of blank lines that headings alone have before them; 0 where other blocks have as many."""
    gaps = Counter(block.gap for block in blocks if not block.begins_sheet)
    usual = gaps.most_common(1)[0][0] if gaps else 0
    wide = [block for block in blocks if block.gap > usual]
    headings = [block for block in wide if is_upper(block.first.text) and abs(block.first.left - places.action) <= NEAR]
    return usual + 1 if usual and len(headings) > 0.8 * len(wide) else 0


def _spare_rows(sheets: Sequence[Sheet]) -> dict[int, int]:
    """How many rows each sheet has less than the fullest."""
    rows = [[line.number for line in sheet if line.words] for sheet in sheets]
    heights = [numbers[-1] - numbers[0] + 1 for numbers in rows]
    fullest = max(heights, default=0)
    return {page: fullest - height for page, height in enumerate(heights, 1)}
