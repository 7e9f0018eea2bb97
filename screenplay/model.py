"""The parts of a screenplay, as frozen data: what every other room of this package takes and returns.

Those that a script has by the thousand are named tuples, which are made in a third of a frozen dataclass's time.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple


class Kind(StrEnum):
    """What a source line is, in the standard's own names."""

    TITLE_PAGE = "title_page"
    SCENE_HEADING = "scene_heading"
    ACTION = "action"
    CHARACTER = "character"
    PARENTHETICAL = "parenthetical"
    DIALOGUE = "dialogue"
    LYRIC = "lyric"
    TRANSITION = "transition"
    CENTERED = "centered"
    PAGE_BREAK = "page_break"
    SECTION = "section"
    SYNOPSIS = "synopsis"
    NOTE = "note"
    BONEYARD = "boneyard"
    BLANK = "blank"


class Run(NamedTuple):
    """A stretch of printed text in one style.

    `start` is the offset, in characters of the source line, of the run's first character.
    """

    text: str
    start: int
    bold: bool = False
    italic: bool = False
    underline: bool = False


class Printed(NamedTuple):
    """What a source line puts on the page: forcing marks, notes and boneyards taken away, emphasis marks still in.

    `line` counts from 1. `start` is the offset of `text[0]` in the source line. `cuts` lists what was taken out
    after that: (offset in `text`, number of source characters missing there), in order.
    """

    line: int
    kind: Kind
    text: str
    start: int = 0
    cuts: tuple[tuple[int, int], ...] = ()

    def source_offset(self, offset: int) -> int:
        """The place in the source line of the character at `offset` of `text`."""
        return self.start + offset + sum(length for at, length in self.cuts if at <= offset)


@dataclass(frozen=True, slots=True)
class TitleEntry:
    """One `Key: value` of the title page: `key_line` is the whole line of the key, `lines` are those of the value, of
    which the first may stand on the key's line, behind the colon."""

    key: str
    key_line: Printed
    lines: tuple[Printed, ...]
    first_line: int
    last_line: int

    @property
    def values(self) -> tuple[str, ...]:
        """The value's lines as text, marks of style still in."""
        return tuple(line.text for line in self.lines)


@dataclass(frozen=True, slots=True)
class Heading:
    """A scene heading: `INT. FERRY - ENGINE ROOM - NIGHT - RAIN #12#` has setting INT., place FERRY - ENGINE ROOM, time
    NIGHT and remark RAIN, which is what follows the time.

    Parts that the heading does not have are empty strings; `number` is None where it has none.
    """

    printed: Printed
    number: str | None
    setting: str
    place: str
    time: str
    remark: str
    first_line: int
    last_line: int


class Speech(NamedTuple):
    """A cue and what is said under it. `name` has no extension and is spelled as where it stands first in the script,
    so that `@McAvoy` and `MCAVOY` are one; `dual` says that it stands on the right of the speech before."""

    name: str
    extensions: tuple[str, ...]
    cue: Printed
    lines: tuple[Printed, ...]
    dual: bool
    first_line: int
    last_line: int


class Block(NamedTuple):
    """Any other element: action, centered, lyric, transition, page break, section or synopsis; a Printed a source line.

    Only action has several lines. `level` is a section's number of `#`, 0 for other kinds.
    """

    kind: Kind
    lines: tuple[Printed, ...]
    first_line: int
    last_line: int
    level: int = 0


Element = Heading | Speech | Block


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of a draft: from a character of one source line up to, and without, a character of the same or another.

    Lines count from 1. Characters count from 0 in the line's text without its line end.
    """

    first_line: int
    first_char: int
    last_line: int
    last_char: int


@dataclass(frozen=True, slots=True)
class Warning:  # noqa: A001 - the word the JSON and the screens use
    """Something a writer may want to mend: the line it is on, the rule (F1 …) it is about, and a sentence."""

    line: int
    rule: str
    text: str


@dataclass(frozen=True, slots=True)
class Screenplay:
    """A parsed script.

    `source` are the lines of `text` with their ends: joined, they are the text. `kinds` and `scene_of` have an entry
    for every source line, in order; `scene_of` counts scenes from 1, 0 for none.
    """

    text: str
    source: tuple[str, ...]
    kinds: tuple[Kind, ...]
    scene_of: tuple[int, ...]
    title_page: tuple[TitleEntry, ...]
    elements: tuple[Element, ...]
    warnings: tuple[Warning, ...]
