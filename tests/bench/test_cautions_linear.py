"""Cautions take time in proportion to a text's length, whatever it says: a line of a long text takes at most twice as
long as one of a short.

Processor time of the search alone.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from screenplay import parse
from screenplay.breakdown import cautions_of
from tests.bench.stopwatch import least_growth

if TYPE_CHECKING:
    from collections.abc import Callable

SHORT, LONGER = 250, 8  # lines; times
MOST = 2.0

TEXTS: dict[str, Callable[[int], str]] = {
    "likenesses in one line": lambda lines: "He is like a dog like a gun " * lines,
    "pairs in one line": lambda lines: "car van drives skids holds her under " * lines,
    "names in one line": lambda lines: "NELL PELL, 9, KIT PELL, 15, Nell " * lines,
    "a name and an age a line": lambda lines: "".join(f"NELL P{line}, 9, waits.\n\n" for line in range(lines)),
    "a speaker a line": lambda lines: "".join(f"NELL P{line}\nA gun!\n\n" for line in range(lines)),
    "a child a scene": lambda lines: "".join(f"INT. CAR - NIGHT\n\nN{line}, 9. N1 swims.\n\n" for line in range(lines)),
    "faint words and talk": lambda lines: "INT. A - DAY\n\nA crowbar.\n\n" + "NELL\nA gun, a knife.\n\n" * lines,
    "a heading of many parts": lambda lines: "INT. " + "CAR OF THE - " * lines + "\n\nA dog.\n",
    "quotes": lambda lines: '"A gun" ' * lines,
    "capitals": lambda lines: "A sign: FIRE EXIT GUN " * lines,
}


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_time_is_in_proportion_to_length(text: Callable[[int], str]) -> None:
    short_script, long_script = parse(text(SHORT)), parse(text(SHORT * LONGER))
    cautions_of(short_script)

    growth = least_growth(
        lambda: cautions_of(long_script), lambda: cautions_of(short_script), longer=LONGER, enough=MOST
    )
    assert growth <= MOST
