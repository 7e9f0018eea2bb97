"""Reading what was typed in columns takes time in proportion to the text's length, whatever the text."""

from __future__ import annotations

import pytest

from screenplay.intake import from_columns
from tests.bench.stopwatch import least_growth

# Ten times the text may take three times as long a character before it fails: a quadratic way takes ten times.
SHORT, LONG = 10_000, 100_000
MOST = 3

SCRIPT = "".join(
    f"{'':15}They row past post {number}, and the light goes down behind it, as\n{'':15}it did.\n\n"
    f"{'':37}MARA\n{'':25}Not that one, the next but one,\n{'':25}and then the gate.\n\n"
    for number in range(20)
)
HOSTILE = {
    "a script": SCRIPT,
    "parentheses": f"{'':37}MARA\n{'':31}(\n" * 40 + "\n",
    "one paragraph": f"{'':15}And so they row on past it and on until nothing is left of it all\n",
    "one word": "x",
    "words in one line": "a ",
    "page numbers": f"{'':70}2.\n\n",
    "brackets": "[[ /* ( * _ \\ ",
    "a speech of capitals": f"{'':25}The tide is out and Nobody has seen\n",
    "headers": f"A HEADER{'':50}1.\n",
    "tabs": "\t",
}


@pytest.mark.parametrize("piece", HOSTILE.values(), ids=HOSTILE)
def test_time_grows_with_the_length_of_the_text(piece: str) -> None:
    short, long = (f"{'':37}MARA\n{'':25}Here.\n\n" * 3 + piece * (length // len(piece)) for length in (SHORT, LONG))

    growth = least_growth(lambda: from_columns(long), lambda: from_columns(short), longer=LONG / SHORT, enough=MOST)
    assert growth <= MOST
