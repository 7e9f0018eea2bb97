"""Our loop over Lark's tables gives what Lark's own parser gives, from the same grammars, tokens and shapes.

Source: Lark's LALR parser as it comes (`Lark.parse`), with our shapes as its transformer.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from lark import Lark

import screenplay.fountain
from screenplay.fountain.emphasis import MarkLexer, MarkToken, Styles, mark_tokens
from screenplay.fountain.grammars import Grammar
from screenplay.fountain.lines import LineLexer, LineToken, line_tokens
from screenplay.fountain.shapes import Shapes
from screenplay.fountain.source_lines import SourceLines
from tests.plays import play_as_fountain
from tests.screenplay.fountain.test_parsing_fixtures import CASES
from tests.screenplay.scripts import any_text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lark.lexer import Lexer

    from screenplay.model import Element

MARKED = ["*", "**", "***", "****", "_", "__", "\\", "\\*", " ", "a", "b c", "é"]


class Placed:
    """What Lark asks of the last token, to say where the text ends."""

    start_pos = line = column = end_pos = end_line = end_column = 0


class PlacedLine(Placed, LineToken): ...


class PlacedMark(Placed, MarkToken): ...


class PlacedLines(LineLexer):
    def lex(self, lexer_state: Any, parser_state: Any = None) -> Iterator[Any]:
        for token in super().lex(lexer_state, parser_state):
            yield PlacedLine(token.type, token.lines, token.first, token.last)


class PlacedMarks(MarkLexer):
    def lex(self, lexer_state: Any, parser_state: Any = None) -> Iterator[Any]:
        for token in super().lex(lexer_state, parser_state):
            yield PlacedMark(token.type, token.text, token.start)


def larks(name: str, start: str, lexer: type[Lexer], shapes: object) -> Lark:
    text = (Path(screenplay.fountain.__file__).parent / f"{name}.lark").read_text(encoding="utf-8")
    return Lark(text, start=start, parser="lalr", lexer=lexer, transformer=cast("Any", shapes))


@cache
def blocks() -> tuple[Grammar, Lark]:
    return Grammar("fountain", LineLexer, Shapes()), larks("fountain", "screenplay", PlacedLines, Shapes())


@cache
def marks() -> tuple[Grammar, Lark]:
    return Grammar("emphasis", MarkLexer, Styles()), larks("emphasis", "line", PlacedMarks, Styles())


def elements_are_the_same(text: str) -> list[Element]:
    ours, theirs = blocks()
    title_page, elements = ours.parse(line_tokens(SourceLines(text)))
    assert cast("Any", theirs).parse(SourceLines(text)) == (title_page, elements)
    return cast("list[Element]", elements)


def pieces_are_the_same(line: str) -> None:
    ours, theirs = marks()
    assert cast("Any", theirs).parse(line) == ours.parse(mark_tokens(line))


@pytest.mark.parametrize("case", CASES, ids=[f"{case.rule}: {case.title}" for case in CASES])
def test_a_fixture_of_the_standard_is_read_the_same(case: Any) -> None:
    elements_are_the_same(case.text)
    for line in filter(None, case.text.splitlines()):
        pieces_are_the_same(line)


@pytest.mark.parametrize("play", ["hamlet", "king-lear"])
def test_a_play_is_read_the_same(play: str) -> None:
    assert len(elements_are_the_same(play_as_fountain(play))) > 1_000


@given(any_text)
@example("")
@example("Title:\n")
@example("Title: X\n  \n")
def test_any_text_is_read_the_same(text: str) -> None:
    elements_are_the_same(text)


@given(
    st.one_of(st.lists(st.sampled_from(MARKED), min_size=1).map("".join), st.text("*_\\ a", min_size=1, max_size=40))
)
@example("***both** italic*")
@example("*69 and *23*")
def test_the_marks_of_any_line_are_read_the_same(line: str) -> None:
    pieces_are_the_same(line)
