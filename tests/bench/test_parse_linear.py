"""Reading takes time in proportion to length: a byte of a long text takes at most 1.5 times as long as one of 100 KiB.

Processor time, reading and the marks within lines together, the collector running as it does.
The long text is 1 MiB here, and by hand, in some twenty minutes, the 10 MiB that the bound is meant for:

    LONG_TEXT_MIB=10 python -m pytest -m timing tests/bench/test_parse_linear.py
"""

from __future__ import annotations

import os

import pytest

from tests.bench.stopwatch import least_growth
from tests.bench.test_parse_hostile import read
from tests.plays import play_as_fountain

KIB = 1024
SHORT = 100 * KIB
LONG = int(os.environ.get("LONG_TEXT_MIB", "1")) * KIB * KIB
MOST = 1.5

# What is said of a text, what it begins with, and what follows, over and over.
TEXTS: list[tuple[str, str, str | None]] = [
    ("a play", "", None),
    ("stars", "", "*"),
    ("underscores", "", "_"),
    ("notes that nothing closes", "", "[["),
    ("boneyards", "", "/*"),
    ("parentheses", "", "("),
    ("backslashes", "", "\\"),
    ("spaces", "", " "),
    ("tabs", "", "\t"),
    ("tabs between letters", "", "a\t"),
    ("blank lines", "", "\n"),
    ("one line", "", "x"),
    ("one heading", "INT. ", "FERRY - DAY "),
    ("nested marks", "", "_**a *b* c**_ "),
    ("marks with no partner", "", "*a _b **c "),
    ("small notes", "", "[[ ]] "),
    ("scenes", "", "INT. A - DAY\n\nB.\n\n"),
]


def filled(before: str, unit: str | None, length: int) -> str:
    """The text so long; that of a play where no other unit is given."""
    unit = play_as_fountain("hamlet")[: SHORT - 1] + "\n" if unit is None else unit
    return before + unit * ((length - len(before)) // len(unit))


@pytest.mark.parametrize(("before", "unit"), [text[1:] for text in TEXTS], ids=[text[0] for text in TEXTS])
def test_time_is_in_proportion_to_length(before: str, unit: str | None) -> None:
    short_text, long_text = filled(before, unit, SHORT), filled(before, unit, LONG)
    longer = len(long_text) / len(short_text)

    growth = least_growth(lambda: read(long_text), lambda: read(short_text), longer=longer, enough=MOST)
    assert growth <= MOST
