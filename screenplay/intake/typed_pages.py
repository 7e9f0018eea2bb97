"""What stands where on typed pages: words and their places, one line under the other, before anything is read in them.

Places are counted in columns, a tenth of an inch in the usual type, from whatever edge the pages have.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NamedTuple

from screenplay.fountain import split_lines
from screenplay.page import columns

if TYPE_CHECKING:
    from collections.abc import Iterator

TAB_STOPS = 8
LONGEST_LINE = 400  # in characters; no page is as wide, and such a line is kept whole
WIDE_GAP = 3  # in columns; no more than two spaces stand between words of one text

STYLES = BOLD, ITALIC, UNDERLINED = 1, 2, 4

_WORDS = re.compile(r"[^ ]+")


class TypedWord(NamedTuple):
    """Characters without a space among them, from column `left` to just before `right`; `gap` is the number of spaces
    that stand before it in its line, 0 for the first; `style` is the sum of those of `STYLES` that it is in, but for
    its first characters, `lead` of them, and its last, `tail` of them, which are in none."""

    text: str
    left: float
    right: float
    gap: int = 0
    style: int = 0
    lead: int = 0
    tail: int = 0


@dataclass(frozen=True, slots=True)
class TypedLine:
    """A line of a page, blank if it has no words. `number` counts from 1: lines of a text, or of a PDF's page.

    `scene` is the scene number that stood in its margins, "" for none.
    """

    number: int
    words: tuple[TypedWord, ...] = ()
    scene: str = ""

    @property
    def left(self) -> float:
        return self.words[0].left

    @property
    def right(self) -> float:
        return self.words[-1].right

    @property
    def first_width(self) -> float:
        return self.words[0].right - self.words[0].left

    @property
    def text(self) -> str:
        """The words with the spaces between them, none around."""
        return "".join([" " * word.gap + word.text for word in self.words])

    def only(self, first: int, end: int | None = None) -> TypedLine:
        """The line with these of its words alone."""
        words = self.words[first:end]
        return replace(self, words=(words[0]._replace(gap=0), *words[1:]) if words else ())


TypedPage = list[TypedLine]


def typed_pages_of(text: str) -> list[TypedPage]:
    """The pages of a text: parted by form feeds, a tab reaching to the next eighth column."""
    pages: list[TypedPage] = [[]]
    for number, line in enumerate(split_lines(text), 1):
        before, *rest = line.rstrip("\r\n").replace("\x1a", "").split("\f")
        pages[-1].append(_typed(number, before))
        pages += [[_typed(number, piece)] for piece in rest]
    return [page for page in pages if any(line.words for line in page)]


def _typed(number: int, line: str) -> TypedLine:
    line = line.expandtabs(TAB_STOPS) if len(line) <= LONGEST_LINE else line
    if not line or line.isspace():
        return TypedLine(number)
    return TypedLine(number, tuple(_words(line)))


def _words(line: str) -> Iterator[TypedWord]:
    if len(line) > LONGEST_LINE:
        text = line.strip()
        yield TypedWord(text, 0, columns(text))
        return
    end, column = 0, 0
    plain = line.isascii()
    for match in _WORDS.finditer(line):
        gap = match.start() - end
        left = column + gap
        end = match.end()
        column = end if plain else left + columns(match.group())
        yield TypedWord(match.group(), left, column, gap if left > gap else 0)
