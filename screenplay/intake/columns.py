"""Scripts typed in columns, as plain text drafts are passed around, to Fountain, with a report of what was guessed."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.fountain import is_upper, split_lines, title_key
from screenplay.intake import typed_title
from screenplay.intake.after_script import without_pages_after
from screenplay.intake.breaks import LineBreaks
from screenplay.intake.element_columns import (
    NEAR_IN_COLUMNS,
    ElementColumns,
    TypedBlock,
    blocks_of,
    find_element_columns,
)
from screenplay.intake.elements import ElementReader
from screenplay.intake.furniture import Dropped, clear
from screenplay.intake.refusals import Unreadable
from screenplay.intake.typed_pages import TypedPage, typed_pages_of
from screenplay.intake.writing import FountainWriter, Guess

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from screenplay.intake.unread_pages import UnreadPage

__all__ = ["MAXIMUM_PAGES", "Conversion", "from_columns", "looks_typed_in_columns", "read_typed_pages"]

MAXIMUM_PAGES = 1000
TOO_MANY_PAGES = f"{{it}} has over {MAXIMUM_PAGES:,} pages, far more than a script: choose the script's pages alone."

_MOST_FORM_FEEDS = 10 * MAXIMUM_PAGES  # some stand between empty pages
_LEAST_SPEECHES = 3
_MOST_OF = 0.6
_WIDEST_LINE = 100  # columns, from the edge of the action
_WIDE_SHARE = 0.02
_FOUNTAIN_ALONE = re.compile(r"#{1,6} ?\S|=|[~@>]\S|> |\.[^\W_.]|!\S|.*(?:\[\[|/\*)")


@dataclass(frozen=True, slots=True)
class Conversion:
    """Fountain made of a typed script. `columns` are those found in it, from the page's left edge;
    `dropped` says how many of what were left out; `page_count` counts those that were read, a title page too; `unread`
    are those of a PDF that were not, or not wholly."""

    text: str
    guesses: tuple[Guess, ...]
    dropped: Mapping[str, int]
    columns: ElementColumns
    page_count: int
    unread: tuple[UnreadPage, ...] = ()


def looks_typed_in_columns(text: str) -> bool:
    """Whether a text is typed in columns, and is no Fountain.

    There have to be speeches, most cues being indented over what is said under them, and this over the action; hardly
    a line wider than a page; no title page of Fountain's and none of the marks that only Fountain has.
    """
    lines = split_lines(text)
    if _begins_with_title_page(lines) or any(_FOUNTAIN_ALONE.match(line) for line in lines):
        return False
    blocks = blocks_of(typed_pages_of(text))
    columns = find_element_columns(blocks)
    if columns.dialogue is None or columns.cues < _LEAST_SPEECHES:
        return False
    typed = [line for block in blocks for line in block.lines]
    wide = sum(line.right - columns.action > _WIDEST_LINE for line in typed)
    cues = sum(len(block.lines) > 1 and is_upper(block.first.text[:80]) for block in blocks)
    return columns.cues >= _MOST_OF * cues and wide <= _WIDE_SHARE * len(typed)


def _begins_with_title_page(lines: Sequence[str]) -> bool:
    """Whether the first line is a key of Fountain's title page, with a value on it or right under it."""
    first = next((index for index, line in enumerate(lines) if line.strip()), len(lines))
    key = title_key(lines[first]) if first < len(lines) else None
    return bool(key and (key[1] or "".join(lines[first + 1 : first + 2]).strip()))


def from_columns(text: str) -> Conversion:
    """Read a script typed in columns: any text at all, in time proportional to its length.

    Raises Unreadable, with one sentence, for a text of more than 1,000 pages.
    """
    try:
        if text.count("\f") > _MOST_FORM_FEEDS:
            raise Unreadable(TOO_MANY_PAGES)
        return read_typed_pages(typed_pages_of(text))
    except Unreadable as refusal:
        raise refusal.about("This script") from None


def read_typed_pages(pages: list[TypedPage]) -> Conversion:
    """Read what stands on pages. Raises Unreadable, `{it}` its subject, where there are more than 1,000."""
    if len(pages) > MAXIMUM_PAGES:
        raise Unreadable(TOO_MANY_PAGES)
    dropped = Dropped()
    title, rest = typed_title.parted(pages)
    cleared = without_pages_after(clear(rest, dropped), dropped) if rest else []
    blocks = blocks_of(cleared)
    columns = find_element_columns(blocks)
    breaks = LineBreaks(blocks, columns)
    writing = FountainWriter(breaks, columns)
    if title:
        writing.title(title, typed_title.entries(title, columns.action))
    reading = ElementReader(columns, breaks.action, _heading_gap(blocks, columns), _spare_rows(cleared))
    for found in reading.read(blocks):
        writing.add(found)
    page_count = len(cleared) + bool(title)
    return Conversion(writing.text, tuple(writing.guesses), dict(dropped.counts), columns, page_count)


def _heading_gap(blocks: Sequence[TypedBlock], columns: ElementColumns) -> int:
    """The number of blank lines that headings alone have before them; 0 where other blocks have as many."""
    gaps = Counter(block.gap for block in blocks if not block.begins_page)
    usual = gaps.most_common(1)[0][0] if gaps else 0
    wide = [block for block in blocks if block.gap > usual]
    headings = [
        block
        for block in wide
        if is_upper(block.first.text) and abs(block.first.left - columns.action) <= NEAR_IN_COLUMNS
    ]
    return usual + 1 if usual and len(headings) > 0.8 * len(wide) else 0


def _spare_rows(pages: Sequence[TypedPage]) -> dict[int, int]:
    """How many rows each page has less than the fullest."""
    rows = [[line.number for line in page if line.words] for page in pages]
    heights = [numbers[-1] - numbers[0] + 1 if numbers else 0 for numbers in rows]
    fullest = max(heights, default=0)
    return {page: fullest - height for page, height in enumerate(heights, 1)}
