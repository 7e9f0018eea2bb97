"""Scripts typed in columns, as plain text drafts are passed around, to Fountain, with a report of what was guessed."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.cues import is_upper
from screenplay.headings import SETTING
from screenplay.intake import title_sheet, writing
from screenplay.intake.elements import Found, Reading, is_continued, two_sides
from screenplay.intake.furniture import Dropped, clear
from screenplay.intake.places import NEAR, Block, Places, blocks_of, find_places
from screenplay.intake.refusals import Unreadable
from screenplay.intake.rejoining import Habits, find_habits, rejoined, text_of
from screenplay.intake.sheets import LONGEST_LINE, Sheet, TypedLine, sheets_of_text
from screenplay.lines import split_lines, title_key
from screenplay.model import Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

MAXIMUM_SHEETS = 1000
TOO_MANY_SHEETS = f"{{it}} has over {MAXIMUM_SHEETS} pages, far more than a script: choose the script's pages alone."

_LEAST_SPEECHES = 3
_MOST_OF = 0.6
_FOUNTAIN_ALONE = re.compile(r"[#=~@>]|\.[^\W_]|\[\[|/\*|!\S")


@dataclass(frozen=True, slots=True)
class Guess:
    """Something that was not certain: `line` is a line of the Fountain text, `source_line` the line it came from, of
    the text or of the PDF's page `page`; all count from 1. `what` is that line's text, `why` a sentence."""

    line: int
    page: int
    source_line: int
    what: str
    why: str


@dataclass(frozen=True, slots=True)
class Conversion:
    """Fountain made of a typed script. `places` are the columns that were found in it, from the sheet's left edge;
    `dropped` says how many of what were left out; `sheets` is the number of sheets, the title page's among them."""

    text: str
    guesses: tuple[Guess, ...]
    dropped: Mapping[str, int]
    places: Places
    sheets: int


def from_columns(text: str) -> Conversion:
    """Read a script typed in columns: any text at all, in time proportional to its length.

    Raises Unreadable, with one sentence, for a text of more than 1,000 pages.
    """
    try:
        return convert(sheets_of_text(text))
    except Unreadable as refusal:
        raise refusal.about("This script") from None


def convert(sheets: Sequence[Sheet]) -> Conversion:
    """Read what stands on sheets."""
    if len(sheets) > MAXIMUM_SHEETS:
        raise Unreadable(TOO_MANY_SHEETS)
    dropped = Dropped()
    title, rest = title_sheet.parted(list(sheets))
    cleared = clear(rest, dropped) if rest else []
    blocks = blocks_of(cleared)
    places = find_places(blocks)
    habits = _Habits(blocks, places)
    reading = Reading(places, habits.action, _heading_gap(blocks, places), _full_sheets(cleared))
    written = _Written(habits)
    if title:
        written.title(title_sheet.entries(title), title[0])
    for found in reading.read(blocks):
        written.add(found)
    return Conversion(written.text, tuple(written.guesses), dict(dropped.counts), places, len(cleared) + bool(title))


class _Habits:
    """How lines of each kind are broken."""

    def __init__(self, blocks: Sequence[Block], places: Places) -> None:
        told = [block.lines for block in blocks if _stand_at(block.lines, places.action)]
        said = [block.lines[1:] for block in blocks if _stand_at(block.lines[1:2], places.dialogue)]
        said = [[line for line in lines if _stand_at([line], places.dialogue)] for lines in said]
        asides = [[line for line in block.lines[1:] if _stand_at([line], places.parenthetical)] for block in blocks]
        sides = [side[1:] for block in blocks for side in two_sides(block) or ()]
        self.action = find_habits(told, places.right)
        self.dialogue = find_habits(said, places.dialogue_right)
        self.parenthetical = find_habits(asides, max((line.right for lines in asides for line in lines), default=0.0))
        self.sides = [side for side in sides if side]

    def of_side(self, lines: Sequence[TypedLine]) -> Habits:
        """The habits of a speech that stands beside another: it has the width that any of them takes."""
        width = max((line.right - min(one.left for one in side) for side in self.sides for line in side), default=0.0)
        return Habits(min((line.left for line in lines), default=0.0) + width)


def _stand_at(lines: Sequence[TypedLine], place: float | None) -> bool:
    return place is not None and bool(lines) and abs(lines[0].left - place) <= NEAR


def _heading_gap(blocks: Sequence[Block], places: Places) -> int:
    """The number of blank lines that headings alone have before them; 0 where other blocks have as many."""
    gaps = Counter(block.gap for block in blocks if not block.begins_sheet)
    usual = gaps.most_common(1)[0][0] if gaps else 0
    wide = [block for block in blocks if block.gap > usual]
    headings = [block for block in wide if is_upper(block.first.text) and _stand_at([block.first], places.action)]
    return usual + 1 if usual and len(headings) > 0.8 * len(wide) else 0


def _full_sheets(sheets: Sequence[Sheet]) -> dict[int, bool]:
    """Whether each sheet has as many rows as the fullest ones, less the two that a break may leave free."""
    rows = [[line.number for line in sheet if line.words] for sheet in sheets]
    heights = [numbers[-1] - numbers[0] + 1 for numbers in rows]
    fullest = max(heights, default=0)
    return {page: height >= fullest - 2 for page, height in enumerate(heights, 1)}


class _Written:
    """Fountain as it is being written, and the guesses in it."""

    def __init__(self, habits: _Habits) -> None:
        self.habits = habits
        self.lines: list[str] = []
        self.guesses: list[Guess] = []

    @property
    def text(self) -> str:
        return "".join(f"{line}\n" for line in self.lines)

    def title(self, lines: list[str], sheet: Sheet) -> None:
        pass

    def add(self, found: Found) -> None:
        if self.lines:
            self.lines.append("")
        first = len(self.lines) + 1
        self.lines += self._element(found)
        for line, why in found.doubts:
            self.guesses.append(Guess(first, found.page, line.number, line.text, why))

    def _element(self, found: Found) -> list[str]:
        if found.cue:
            return [writing.cue(writing.literal(found.cue.text), dual=found.dual), *self._said(found)]
        texts = self._texts(found.lines, self.habits.action)
        return []
