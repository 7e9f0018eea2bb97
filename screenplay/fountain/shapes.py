"""The elements that the block grammar's rules make of their lines."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from screenplay.fountain.cues import name_and_extensions
from screenplay.fountain.emphasis import plain, plain_text
from screenplay.fountain.headings import heading_fields, without_number
from screenplay.fountain.lines import LineToken
from screenplay.model import Block, Element, Heading, Kind, Printed, Speech, TitleEntry

if TYPE_CHECKING:
    from collections.abc import Callable

    from screenplay.fountain.source_lines import SourceLines

    # How a line's text is cut out of it: where in the bare line it starts and ends.
    Cut = Callable[[str], tuple[int, int]]


class TitlePage(tuple[TitleEntry, ...]):
    """The title page's entries, in order."""

    __slots__ = ()


Shaped = TitlePage | TitleEntry | Heading | Speech | Block | LineToken | list[Element]


class Shapes:
    """One method for each rule of the grammar. What has several elements is a list of them, in the text's order."""

    def screenplay(self, parts: list[Shaped]) -> tuple[TitlePage, list[Element]]:
        title_page = parts[0] if parts and isinstance(parts[0], TitlePage) else TitlePage()
        return title_page, _elements(parts)

    def title_page(self, parts: list[Shaped]) -> TitlePage:
        return TitlePage(part for part in parts if isinstance(part, TitleEntry))

    def title_entry(self, tokens: list[LineToken]) -> TitleEntry:
        return _title_entry(tokens)

    def scene(self, parts: list[Shaped]) -> list[Element]:
        heading = parts[0]
        assert isinstance(heading, LineToken)
        return [_heading(heading), *_elements(parts)]

    def dual_dialogue(self, speeches: list[Speech]) -> list[Speech]:
        return speeches

    def speech(self, tokens: list[LineToken]) -> Speech:
        return _speech(tokens, dual=False)

    unpaired = speech

    def right_speech(self, tokens: list[LineToken]) -> Speech:
        return _speech(tokens, dual=True)

    def action(self, tokens: list[LineToken]) -> Block:
        return _action(tokens)

    def lyric(self, tokens: list[LineToken]) -> Block:
        return _line(Kind.LYRIC, tokens[0], after_mark)

    def centered(self, tokens: list[LineToken]) -> Block:
        return _line(Kind.CENTERED, tokens[0], _between_marks)

    def transition(self, tokens: list[LineToken]) -> Block:
        return _line(Kind.TRANSITION, tokens[0], _after_greater_than)

    def page_break(self, tokens: list[LineToken]) -> Block:
        return _line(Kind.PAGE_BREAK, tokens[0], _no_text)

    def section(self, tokens: list[LineToken]) -> Block:
        line = tokens[0].lines.stripped[tokens[0].first]
        level = len(line) - len(line.lstrip("#"))
        return _line(Kind.SECTION, tokens[0], _after_number_signs)._replace(level=level)

    def synopsis(self, tokens: list[LineToken]) -> Block:
        return _line(Kind.SYNOPSIS, tokens[0], after_mark)


def _elements(parts: list[Shaped]) -> list[Element]:
    elements: list[Element] = []
    for part in parts:
        if isinstance(part, list):
            elements += part
        elif isinstance(part, Speech | Block):
            elements.append(part)
    return elements


def _line(kind: Kind, token: LineToken, cut: Cut) -> Block:
    lines, position = token.lines, token.first
    lines.mark(position, position, kind)
    printed = lines.printed(position, kind, *cut(lines.bare[position]))
    return Block(kind, (printed,), printed.line, printed.line)


def _action(tokens: list[LineToken]) -> Block:
    lines = tokens[0].lines
    lines.mark(tokens[0].first, tokens[-1].last, Kind.ACTION)
    printed: list[Printed] = []
    for token in tokens:
        cut = _after_exclamation_mark if token.type == "FORCED_ACTION" else _without_trailing_space
        for position in range(token.first, token.last + 1):
            printed.append(lines.printed(position, Kind.ACTION, *cut(lines.bare[position])))  # noqa: PERF401
    return Block(Kind.ACTION, tuple(printed), printed[0].line, printed[-1].line)


def _speech(tokens: list[LineToken], *, dual: bool) -> Speech:
    cue_token, *said = tokens[:-1]
    lines, position = cue_token.lines, cue_token.first
    lines.mark(position, position, Kind.CHARACTER)
    cue, name, extensions = _cue(lines, position)
    spoken: list[Printed] = []
    for token in said:
        spoken += _said(token)
    return Speech(name, extensions, cue, tuple(spoken), dual, cue.line, spoken[-1].line if spoken else cue.line)


def _cue(lines: SourceLines, position: int) -> tuple[Printed, str, tuple[str, ...]]:
    """A cue, its name and its extensions."""
    line = lines.bare[position]
    read = _read_cue if len(line) <= _COMMON_CUE else _read_cue.__wrapped__
    start, end, name, extensions = read(line)
    return lines.printed(position, Kind.CHARACTER, start, end), name, extensions


@lru_cache(maxsize=1024)
def _read_cue(line: str) -> tuple[int, int, str, tuple[str, ...]]:
    """Where a cue starts and ends in its line, its name and its extensions: the same few, over and over."""
    start, end = _stripped(line)
    start, end = _trimmed(line, start + (line[start] == "@"), end - (line[end - 1] == "^"))
    return start, end, *name_and_extensions(plain_text(line[start:end]))


_COMMON_CUE = 60
_SAID_KINDS = {"PARENTHETICAL": Kind.PARENTHETICAL, "LYRIC": Kind.LYRIC}


def _said(token: LineToken) -> list[Printed]:
    """Lines under a cue: what is neither a parenthetical nor a lyric is dialogue, whatever it looks like."""
    lines = token.lines
    kind = _SAID_KINDS.get(token.type, Kind.DIALOGUE)
    lines.mark(token.first, token.last, kind)
    if kind is Kind.LYRIC:
        return [lines.printed(token.first, kind, *after_mark(lines.bare[token.first]))]
    return lines.printed_stripped(token.first, token.last, kind)


def _heading(token: LineToken) -> Heading:
    lines, position = token.lines, token.first
    lines.mark(position, position, Kind.SCENE_HEADING)
    line = lines.bare[position]
    start, end = after_mark(line) if lines.stripped[position][0] == "." else _stripped(line)
    text, number = without_number(line[start:end])
    printed = lines.printed(position, Kind.SCENE_HEADING, start, start + len(text))
    fields = heading_fields(plain(printed))
    return Heading(printed, number, *fields, printed.line, printed.line)


def _title_entry(tokens: list[LineToken]) -> TitleEntry:
    lines, position = tokens[0].lines, tokens[0].first
    last = tokens[-1].last
    lines.mark(position, last, Kind.TITLE_PAGE)
    line = lines.bare[position]
    key_line = lines.printed(position, Kind.TITLE_PAGE, *_stripped(line))
    key, colon, _ = line.partition(":")
    beside = lines.printed(position, Kind.TITLE_PAGE, *_trimmed(line, len(key) + len(colon), len(line)))
    under = lines.printed_stripped(position + 1, last, Kind.TITLE_PAGE)
    value = tuple(printed for printed in (beside, *under) if printed.text)
    return TitleEntry(key.rstrip(), key_line, value, key_line.line, lines.number[last])


def _without_trailing_space(line: str) -> tuple[int, int]:
    return 0, len(line.rstrip())


def _stripped(line: str) -> tuple[int, int]:
    return _trimmed(line, 0, len(line))


def _trimmed(line: str, start: int, end: int) -> tuple[int, int]:
    """The stretch without the white space around it."""
    text = line[start:end]
    stripped = text.strip()
    start += text.find(stripped)
    return start, start + len(stripped)


def _no_text(line: str) -> tuple[int, int]:
    start, _ = _stripped(line)
    return start, start


def after_mark(line: str) -> tuple[int, int]:
    """The text after the one mark that a line begins with, and the white space that follows it."""
    start, end = _stripped(line)
    return _trimmed(line, start + 1, end)


def _after_exclamation_mark(line: str) -> tuple[int, int]:
    start, end = _stripped(line)
    return start + 1, end


def _after_greater_than(line: str) -> tuple[int, int]:
    start, end = _stripped(line)
    return after_mark(line) if line[start] == ">" else (start, end)


def _between_marks(line: str) -> tuple[int, int]:
    start, end = _stripped(line)
    return _trimmed(line, start + 1, end - 1)


def _after_number_signs(line: str) -> tuple[int, int]:
    start, end = _stripped(line)
    while line[start] == "#":
        start += 1
    return _trimmed(line, start, end)
