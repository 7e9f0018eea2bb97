"""What kind of line this could be: the lexer that feeds source lines to the block grammar.

All that a line's neighbours decide about it is decided here: whether it stands in a note or a boneyard, in the
title page, after a blank line, before one.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from lark.lexer import Lexer

from screenplay.fountain.cues import is_parenthetical, is_upper
from screenplay.fountain.headings import SETTING
from screenplay.fountain.source_lines import LINE_ENDS
from screenplay.fountain.title_keys import KNOWN_TITLE_KEYS, title_key

if TYPE_CHECKING:
    from collections.abc import Iterator

    from screenplay.fountain.source_lines import SourceLines

_PAGE_BREAK = re.compile(r"={3,}")
_SECTION = re.compile(r"#{1,6}(?!#)\s*(?=\S)")
_MARKS = frozenset("!@.~>#=(")


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
    line = lines.bare[position].rstrip(LINE_ENDS)
    return len(line) > 1 or line == "\t"


def _kind_of_line(lines: SourceLines, position: int, text: str, after_blank: bool) -> str:
    """The token for a line that is not blank, `text` being it without white space around it."""
    if text[0] in _MARKS and (kind := _marked_kind(text)):
        return kind
    if not after_blank:
        return "TEXT"
    if is_usual_heading(text):
        return "SCENE_HEADING"
    stripped = lines.stripped
    before_blank = position + 1 == len(stripped) or not stripped[position + 1]
    if before_blank:
        is_transition = text.endswith("TO:") and text.isupper()
        return "TRANSITION" if is_transition and not _ends_in_space(lines, position) else "TEXT"
    name = text[:-1] if text[-1] == "^" else text
    if is_upper(name):
        return "CUE" if name is text else "DUAL_CUE"
    return "TEXT"


def is_heading(text: str) -> bool:
    """Whether a line behind a blank one is a scene heading, `text` being it without white space around it (F2, F3)."""
    return is_usual_heading(text) or (text[:1] == "." and text[1:2].isalnum())


def is_usual_heading(text: str) -> bool:
    """Whether it is one that begins with a setting."""
    return text[:1] in "IiEe" and SETTING.match(text) is not None


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


def _ends_in_space(lines: SourceLines, position: int) -> bool:
    """Whether the writer put a space at the end of a line, which a note there does not (F14)."""
    line = lines.source[lines.number[position] - 1].rstrip(LINE_ENDS)
    return line[-1].isspace() and line.rstrip()[-1] == ":"


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
