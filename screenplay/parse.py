"""Fountain text to a `Screenplay`: the shapes that the block grammar's rules make."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from itertools import accumulate
from pathlib import Path
from typing import Any

from lark import Lark

from screenplay.cues import name_and_extensions, same_name
from screenplay.doubts import doubts
from screenplay.emphasis import plain
from screenplay.headings import heading_parts, without_number
from screenplay.lines import LineLexer, LineToken, SourceLines, title_key
from screenplay.model import Block, Element, Heading, Kind, Printed, Screenplay, Speech, TitleEntry

_GRAMMAR = Path(__file__).with_name("fountain.lark")


def parse(text: str) -> Screenplay:
    """Read Fountain: any text at all, without failing, in time proportional to its length.

    `"".join(parse(text).source) == text`, and `kinds` has one kind for each source line.
    """
    lines = SourceLines(text)
    title_page, elements = _grammar().parse(lines)  # type: ignore[arg-type]
    elements = _with_one_spelling(elements)
    starts = {element.first_line for element in elements if isinstance(element, Heading)}
    scene_of = tuple(accumulate(int(line in starts) for line in range(1, len(lines.source) + 1)))
    return Screenplay(
        text=text,
        source=lines.source,
        kinds=tuple(lines.kinds),
        scene_of=scene_of,
        title_page=tuple(title_page),
        elements=tuple(elements),
        warnings=doubts(lines, title_page, elements),
    )


@cache
def _grammar() -> Lark:
    return Lark(
        _GRAMMAR.read_text(encoding="utf-8"),
        start="screenplay",
        parser="lalr",
        lexer=LineLexer,
        transformer=Shapes(),
    )


def _with_one_spelling(elements: list[Element]) -> list[Element]:
    """The elements, with each character's name spelled as where it stands first."""
    spelling: dict[str, str] = {}
    named: list[Element] = []
    for element in elements:
        if isinstance(element, Speech):
            first = spelling.setdefault(same_name(element.name), element.name)
            if first != element.name:
                element = _renamed(element, first)
        named.append(element)
    return named


def _renamed(speech: Speech, name: str) -> Speech:
    return Speech(name, speech.extensions, speech.cue, speech.lines, speech.dual, speech.first_line, speech.last_line)


class Shapes:
    """One method for each rule of the block grammar. A rule's elements come as a list, in the order of the text."""

    def screenplay(self, parts: list[Any]) -> tuple[list[TitleEntry], list[Element]]:
        title_page: list[TitleEntry] = []
        elements: list[Element] = []
        for part in parts:
            if isinstance(part, TitlePage):
                title_page = list(part)
            elif isinstance(part, list):
                elements += part
            elif not isinstance(part, LineToken):
                elements.append(part)
        return title_page, elements

    def scene(self, parts: list[Any]) -> list[Element]:
        elements: list[Element] = [_heading(parts[0])]
        for part in parts[1:]:
            if isinstance(part, list):
                elements += part
            elif not isinstance(part, LineToken):
                elements.append(part)
        return elements

    def title_page(self, parts: list[Any]) -> TitlePage:
        return TitlePage(part for part in parts if isinstance(part, TitleEntry))

    def title_entry(self, tokens: list[LineToken]) -> TitleEntry:
        return _title_entry(tokens)

    def speech(self, tokens: list[LineToken]) -> Speech:
        return _speech(tokens, dual=False)

    unpaired = speech

    def right_speech(self, tokens: list[LineToken]) -> Speech:
        return _speech(tokens, dual=True)

    def dual_dialogue(self, speeches: list[Speech]) -> list[Speech]:
        return speeches

    def action(self, tokens: list[LineToken]) -> Block:
        return _block(Kind.ACTION, tokens, _action_line)

    def lyric(self, tokens: list[LineToken]) -> Block:
        return _block(Kind.LYRIC, tokens, _after_mark)

    def centered(self, tokens: list[LineToken]) -> Block:
        return _block(Kind.CENTERED, tokens, _between_marks)

    def transition(self, tokens: list[LineToken]) -> Block:
        return _block(Kind.TRANSITION, tokens, _transition_line)

    def page_break(self, tokens: list[LineToken]) -> Block:
        return _block(Kind.PAGE_BREAK, tokens, _no_text)

    def section(self, tokens: list[LineToken]) -> Block:
        return _block(Kind.SECTION, tokens, _after_section_marks)

    def synopsis(self, tokens: list[LineToken]) -> Block:
        return _block(Kind.SYNOPSIS, tokens, _after_mark)


class TitlePage(tuple[TitleEntry, ...]):
    """The title page's entries, in order."""

    __slots__ = ()


# How a line's text is cut out of it: each takes the lines and a position and gives where the text starts and ends.
Cut = Callable[[SourceLines, int], tuple[int, int]]


def _block(kind: Kind, tokens: list[LineToken], cut: Cut) -> Block:
    lines = tokens[0].lines
    printed: list[Printed] = []
    for token in tokens:
        lines.mark(token.first, token.last, kind)
        line_cut = _after_mark_unstripped if token.type == "FORCED_ACTION" else cut
        for position in range(token.first, token.last + 1):
            printed.append(lines.printed(position, kind, *line_cut(lines, position)))
    return Block(kind, tuple(printed), printed[0].line, printed[-1].line)


def _action_line(lines: SourceLines, position: int) -> tuple[int, int]:
    return 0, len(lines.bare[position].rstrip())


def _whole(lines: SourceLines, position: int) -> tuple[int, int]:
    line = lines.bare[position]
    start = len(line) - len(line.lstrip())
    return start, start + len(lines.stripped[position])


def _no_text(lines: SourceLines, position: int) -> tuple[int, int]:
    start, _ = _whole(lines, position)
    return start, start


def _after_mark_unstripped(lines: SourceLines, position: int) -> tuple[int, int]:
    start, end = _whole(lines, position)
    return start + 1, end


def _after_mark(lines: SourceLines, position: int) -> tuple[int, int]:
    start, end = _whole(lines, position)
    return _trimmed(lines.bare[position], start + 1, end)


def _between_marks(lines: SourceLines, position: int) -> tuple[int, int]:
    start, end = _whole(lines, position)
    return _trimmed(lines.bare[position], start + 1, end - 1)


def _transition_line(lines: SourceLines, position: int) -> tuple[int, int]:
    return (_after_mark if lines.stripped[position][0] == ">" else _whole)(lines, position)


def _after_section_marks(lines: SourceLines, position: int) -> tuple[int, int]:
    start, end = _whole(lines, position)
    marks = end - start - len(lines.stripped[position].lstrip("#"))
    return _trimmed(lines.bare[position], start + marks, end)


def _trimmed(line: str, start: int, end: int) -> tuple[int, int]:
    """The stretch without the white space around it."""
    text = line[start:end]
    start += len(text) - len(text.lstrip())
    return start, start + len(text.strip())


def _heading(token: LineToken) -> Heading:
    lines, position = token.lines, token.first
    lines.mark(position, position, Kind.SCENE_HEADING)
    start, end = _whole(lines, position)
    if lines.stripped[position][0] == ".":
        start, end = _trimmed(lines.bare[position], start + 1, end)
    text, number = without_number(lines.bare[position][start:end])
    printed = lines.printed(position, Kind.SCENE_HEADING, start, start + len(text))
    parts = heading_parts(plain(printed))
    return Heading(printed, number, parts.setting, parts.place, parts.time, printed.line, printed.line)


def _title_entry(tokens: list[LineToken]) -> TitleEntry:
    key, *value = tokens
    lines = key.lines
    lines.mark(key.first, tokens[-1].last, Kind.TITLE_PAGE)
    line = lines.bare[key.first].rstrip()
    match = title_key(line)
    name = match.group(1).strip() if match else line
    values = [line[match.end(1) + 1 :].strip()] if match else []
    values += [lines.stripped[position] for token in value for position in range(token.first, token.last + 1)]
    return TitleEntry(
        name, tuple(text for text in values if text), lines.number[key.first] + 1, lines.number[tokens[-1].last] + 1
    )


def _speech(tokens: list[LineToken], *, dual: bool) -> Speech:
    cue, *said = tokens[:-1]
    lines = cue.lines
    lines.mark(cue.first, cue.first, Kind.CHARACTER)
    start, end = _whole(lines, cue.first)
    line = lines.bare[cue.first]
    start += line[start] == "@"
    end -= line[end - 1] == "^"
    printed_cue = lines.printed(cue.first, Kind.CHARACTER, *_trimmed(line, start, end))
    name, extensions = name_and_extensions(plain(printed_cue))
    spoken = tuple(printed for token in said for printed in _said(token))
    last_line = spoken[-1].line if spoken else printed_cue.line
    return Speech(name, extensions, printed_cue, spoken, dual, printed_cue.line, last_line)


_SAID_KINDS = {"PARENTHETICAL": Kind.PARENTHETICAL, "LYRIC": Kind.LYRIC}


def _said(token: LineToken) -> list[Printed]:
    lines = token.lines
    kind = _SAID_KINDS.get(token.type, Kind.DIALOGUE)
    lines.mark(token.first, token.last, kind)
    cut: Cut = _after_mark if kind is Kind.LYRIC else _whole
    return [lines.printed(position, kind, *cut(lines, position)) for position in range(token.first, token.last + 1)]
