"""What kind of line this could be: the source lines, and the lexer that feeds them to the block grammar.

All that a line's neighbours decide about it is decided here: whether it stands in a note or a boneyard, in the
title page, after a blank line, before one.
"""

from __future__ import annotations

import io
import re
from bisect import bisect_left
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from lark.lexer import Lexer

from screenplay.fountain.asides import Asides, find_asides, left_of_lines
from screenplay.fountain.cues import is_parenthetical, is_upper
from screenplay.fountain.headings import SETTING
from screenplay.model import Kind, Printed

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

BYTE_ORDER_MARK = "\ufeff"
TAB_WIDTH = 4

# Keys that a script may leave empty without its first line being action (common practice, C).
KNOWN_TITLE_KEYS = frozenset(
    {"title", "credit", "author", "authors", "source", "notes", "draft date", "date", "contact", "copyright"}
    | {
        "revision",
        "draft",
        "written by",
        "story by",
        "production",
        "company",
        "version",
        "language",
        "series",
        "episode",
    }
)
_TITLE_KEY = re.compile(r"[^\s.!@>~#=\[(]")
_PAGE_BREAK = re.compile(r"={3,}")
_SECTION = re.compile(r"#{1,6}(?!#)\s*(?=\S)")
_MARKS = frozenset("!@.~>#=(")


# A `Printed` of its fields in a tuple: what its `_make` does but for counting them, in half the time.
_new_printed = partial(tuple.__new__, Printed)


def split_lines(text: str) -> tuple[str, ...]:
    """The lines of `text`, each with its own line end: CRLF, CR or LF, and no other (F24)."""
    return tuple(io.StringIO(text, newline=""))


class SourceLines:
    """The lines of a text, and those of them that can print something, by position.

    `number[i]` is the number, from 1, of the i-th line outside notes and boneyards, `bare[i]` what these leave of it,
    and `stripped[i]` that without white space around it. `kinds` has an entry for every source line and starts
    with what is known before the grammar has its say.
    """

    __slots__ = ("asides", "bare", "cuts", "kinds", "number", "source", "stripped")

    def __init__(self, text: str) -> None:
        self.source = split_lines(text)
        self.kinds: list[Kind] = [Kind.BLANK] * len(self.source)
        self.number: Sequence[int] = range(1, len(self.source) + 1)
        self.bare: Sequence[str] = self.source
        self.cuts: dict[int, tuple[tuple[int, int], ...]] = {}
        self.asides = Asides([], [])
        if "/*" in text or "[[" in text:
            self._leave_asides_out(text)
        if "\t" in text or text.startswith(BYTE_ORDER_MARK):
            self._widen()
        self.stripped = [line.strip() for line in self.bare]

    def _leave_asides_out(self, text: str) -> None:
        self.asides = find_asides(text)
        touched = left_of_lines(self.source, self.asides.spans)
        number: list[int] = []
        bare: list[str] = []
        for index, line in enumerate(self.source):
            if index in touched:
                left, cuts = _joined(touched[index].pieces)
                if not left.strip():
                    self.kinds[index] = touched[index].kind
                    continue
                self.cuts[len(number)] = cuts
            number.append(index + 1)
            bare.append(left if index in touched else line)
        self.number, self.bare = number, bare

    def _widen(self) -> None:
        """Give tabs the four spaces that they stand for (F5), and take a byte-order mark away (F24)."""
        bare = list(self.bare)
        if bare and self.number[0] == 1 and bare[0].startswith(BYTE_ORDER_MARK):
            bare[0] = bare[0][1:]
            self.cuts[0] = ((0, 1), *((at - 1, length) for at, length in self.cuts.get(0, ())))
        for position, line in enumerate(bare):
            if "\t" in line and not line.isspace():
                bare[position], self.cuts[position] = _with_wide_tabs(line, self.cuts.get(position, ()))
        self.bare = bare

    def printed(self, position: int, kind: Kind, start: int, end: int) -> Printed:
        """What `bare[position][start:end]` prints, and where in the source line it came from."""
        line = self.number[position]
        text = self.bare[position][start:end]
        cuts = self.cuts.get(position)
        if not cuts:
            return Printed(line, kind, text, start)
        before = sum(length for at, length in cuts if at <= start)
        return Printed(
            line, kind, text, start + before, tuple((at - start, length) for at, length in cuts if start < at < end)
        )

    def printed_stripped(self, first: int, last: int, kind: Kind) -> list[Printed]:
        """What the lines at these positions, both included, print without the white space around them."""
        bare, stripped, number, cuts = self.bare, self.stripped, self.number, self.cuts
        found: list[Printed] = []
        for position in range(first, last + 1):
            text = stripped[position]
            start = bare[position].find(text)
            if position in cuts:
                found.append(self.printed(position, kind, start, start + len(text)))
            else:
                found.append(_new_printed((number[position], kind, text, start, ())))
        return found

    def position_of(self, line: int) -> int:
        """The position of a source line, by its number, which counts from 1."""
        return bisect_left(self.number, line)

    def mark(self, first: int, last: int, kind: Kind) -> None:
        """Say what kind the lines at these positions, both included, are."""
        if self.number.__class__ is range:
            self.kinds[first : last + 1] = [kind] * (last + 1 - first)
        else:
            for position in range(first, last + 1):
                self.kinds[self.number[position] - 1] = kind


def _joined(pieces: list[tuple[int, str]]) -> tuple[str, tuple[tuple[int, int], ...]]:
    """Pieces of a source line as one text, and the cuts between them as `Printed` has them."""
    cuts: list[tuple[int, int]] = []
    length, expected = 0, 0
    for offset, piece in pieces:
        if offset != expected:
            cuts.append((length, offset - expected))
        length += len(piece)
        expected = offset + len(piece)
    return "".join(piece for _, piece in pieces), tuple(cuts)


def _with_wide_tabs(line: str, cuts: tuple[tuple[int, int], ...]) -> tuple[str, tuple[tuple[int, int], ...]]:
    """The line with four spaces in the place of each tab, and its cuts, by which all four come from the one tab."""
    found: list[tuple[int, int]] = []
    known = list(reversed(cuts))
    wider = 0
    tab = line.find("\t")
    while tab >= 0:
        while known and known[-1][0] <= tab:
            at, length = known.pop()
            found.append((at + wider, length))
        found += [(tab + wider + more, -1) for more in range(1, TAB_WIDTH)]
        wider += TAB_WIDTH - 1
        tab = line.find("\t", tab + 1)
    found += [(at + wider, length) for at, length in reversed(known)]
    return line.replace("\t", " " * TAB_WIDTH), tuple(found)


@dataclass(slots=True)
class LineToken:
    """Lines alike, in a row, as one token of the block grammar: positions `first` to `last` of `lines`."""

    type: str
    lines: SourceLines
    first: int
    last: int


class LineLexer(Lexer):
    """The lexer of the block grammar, which is given `SourceLines` for a text."""

    def __init__(self, lexer_conf: object) -> None:
        pass

    def lex(self, lexer_state: Any, parser_state: Any = None) -> Iterator[Any]:
        """The tokens of a `SourceLines`."""
        return line_tokens(lexer_state)


def line_tokens(lines: SourceLines) -> Iterator[LineToken]:
    """Source lines as tokens, by what each could be where it stands; the last is a BLANK of no lines."""
    stripped = lines.stripped
    total = len(stripped)
    position = _title_page_end(lines)
    yield from _title_page(lines, position)
    after_blank = True
    while position < total:
        text = stripped[position]
        last = position
        if text:
            kind = _kind_of_line(lines, position, text, after_blank)
            after_blank = False
            while kind == "TEXT" and last + 1 < total and (following := stripped[last + 1]):
                if following[0] in _MARKS:
                    break
                last += 1
        else:
            kind = "SPACES" if _is_spaces(lines, position) else "BLANK"
            after_blank = True
            while last + 1 < total and not stripped[last + 1] and (kind == "BLANK" or _is_spaces(lines, last + 1)):
                last += 1
        yield LineToken(kind, lines, position, last)
        position = last + 1
    yield LineToken("BLANK", lines, total, total - 1)


def _is_spaces(lines: SourceLines, position: int) -> bool:
    """Whether a line of white space has two spaces or more, or a tab."""
    line = lines.bare[position].rstrip("\r\n")
    return len(line) > 1 or line == "\t"


def _kind_of_line(lines: SourceLines, position: int, text: str, after_blank: bool) -> str:
    """The token for a line that is not blank, `text` being it without white space around it."""
    if text[0] in _MARKS and (kind := _marked_kind(text)):
        return kind
    if not after_blank:
        return "TEXT"
    if text[0] in "IiEe" and SETTING.match(text):
        return "SCENE_HEADING"
    stripped = lines.stripped
    before_blank = position + 1 == len(stripped) or not stripped[position + 1]
    if before_blank:
        is_transition = text.endswith("TO:") and text.isupper()
        return "TRANSITION" if is_transition and not _ends_in_space(lines.bare[position]) else "TEXT"
    name = text[:-1] if text[-1] == "^" else text
    if is_upper(name):
        return "CUE" if name is text else "DUAL_CUE"
    return "TEXT"


def _marked_kind(text: str) -> str | None:
    """The token that the mark a line begins with makes it, or None where the mark means nothing."""
    mark, rest = text[0], text[1:2]
    if mark == "(":
        return "PARENTHETICAL" if is_parenthetical(text) else None
    if mark == "!":
        return "FORCED_ACTION"
    if mark == "#":
        return "SECTION" if _SECTION.match(text) else None
    if mark == "=":
        return _equals_kind(text)
    if mark == "." and rest.isalnum():
        return "SCENE_HEADING"
    if mark == "~" and rest:
        return "LYRIC"
    if mark == "@" and text[1:].strip("^ "):
        return "DUAL_CUE" if text[-1] == "^" else "CUE"
    if mark == ">" and text[1:].strip("< "):
        return "CENTERED" if text[-1] == "<" else "TRANSITION"
    return None


def _equals_kind(text: str) -> str | None:
    if not text.startswith("==="):
        return "SYNOPSIS"
    return "PAGE_BREAK" if _PAGE_BREAK.fullmatch(text) else None


def _ends_in_space(line: str) -> bool:
    line = line.rstrip("\r\n")
    return bool(line) and line[-1].isspace()


def title_key(line: str) -> tuple[str, str] | None:
    """The key that a line of a title page begins with, and the value after it; None where it has no key."""
    key, colon, value = line.rstrip().partition(":")
    if not colon or not _TITLE_KEY.match(key):
        return None
    key = key.rstrip()
    if value and not value[0].isspace() and key.lower() not in KNOWN_TITLE_KEYS:
        return None
    return key, value.strip()


def _title_page_end(lines: SourceLines) -> int:
    """How many lines the title page has, its closing blank line left out; 0 where there is none (F1)."""
    if not lines.stripped or not _opens_title_page(lines):
        return 0
    return next((position for position, text in enumerate(lines.stripped) if not text), len(lines.stripped))


def _opens_title_page(lines: SourceLines) -> bool:
    """Whether the first line has a key with a value, or with something that is one under it."""
    first = title_key(lines.bare[0])
    if first is None or SETTING.match(lines.bare[0]):
        return False
    key, value = first
    if value:
        return True
    following = lines.bare[1] if len(lines.bare) > 1 and lines.stripped[1] else ""
    return _is_indented(following) or (key.lower() in KNOWN_TITLE_KEYS and title_key(following) is not None)


def _is_indented(line: str) -> bool:
    return line.startswith(" " * 3)


def _title_page(lines: SourceLines, end: int) -> Iterator[LineToken]:
    """The title page's lines: keys, and the lines under a key, which hold more of its value."""
    starts = [position for position in range(end) if position == 0 or title_key(lines.bare[position])]
    for position, following in zip(starts, [*starts[1:], end], strict=False):
        yield LineToken("TITLE_KEY", lines, position, position)
        if following > position + 1:
            yield LineToken("TITLE_VALUE", lines, position + 1, following - 1)
