"""Reading takes time in proportion to the text's length, whatever the text."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from screenplay import parse
from screenplay.fountain import runs
from screenplay.fountain.emphasis import lone_marks
from screenplay.model import Block, Heading, Speech
from tests.bench.stopwatch import least_growth

if TYPE_CHECKING:
    from collections.abc import Iterator

    from screenplay import Screenplay
    from screenplay.model import Printed

# What a quadratic step would need at these lengths is 8 times as much a character; a linear one, about as much.
SHORT, LONG = 2_500, 20_000
MOST = 4

HOSTILE = [
    "*", "_", "[[", "]]", "/*", "*/", "(", ")", "\\", " ", "\n", "  \n", "\t", "#", "=", "^", "-", "- ", "- DAY ", "@",
    "a*", "*a ", "_a ", "**a _b ", "***a** b*", "[[ ]] ", "/* */", "[[\n\n", "[[a\n  \n", "INT. ", "A\n\n", "A^\nb\n\n",
    "A(", "INT. A\n\n", "INT. A #1#\n\n", "@a\nb\n\n", "MARA\nhi\n  \n", "(a)\n", "\r", "a\tb", "Title: ", "é", "\x0b",
]  # fmt: skip


def printed_of(screenplay: Screenplay) -> Iterator[Printed]:
    for element in screenplay.elements:
        match element:
            case Heading():
                yield element.printed
            case Speech():
                yield element.cue
                yield from element.lines
            case Block():
                yield from element.lines


def read(text: str) -> None:
    """The text read, the marks within its lines included."""
    for printed in printed_of(parse(text)):
        runs(printed)


@pytest.mark.parametrize("unit", HOSTILE, ids=repr)
@pytest.mark.parametrize("before", ["", "INT. ", "MARA\n"], ids=["alone", "in a heading", "in a speech"])
def test_time_is_in_proportion_to_length(before: str, unit: str) -> None:
    short, long = before + unit * (SHORT // len(unit)), before + unit * (LONG // len(unit))

    growth = least_growth(lambda: read(long), lambda: read(short), longer=LONG / SHORT, enough=MOST)
    assert growth <= MOST


def test_a_mark_that_never_closes_is_found_in_time_in_proportion_to_length() -> None:
    short, long = "*_" * (SHORT // 2), "*_" * (LONG // 2)

    growth = least_growth(lambda: lone_marks(long), lambda: lone_marks(short), longer=LONG / SHORT, enough=MOST)
    assert growth <= MOST
