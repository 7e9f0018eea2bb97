"""Laying out takes time in proportion to the number of rows, whatever they hold."""

from __future__ import annotations

import pytest

from screenplay import paginate, parse
from tests.bench.stopwatch import least_growth

# Eight times the text would take eight times as long a row, were it quadratic.
LONGER, MOST = 8, 3


def growth_of_a_row(short: str, long: str) -> float:
    """How many times as long a row of the long text takes to lay out as one of the short."""
    short_script, long_script = parse(short), parse(long)
    short_rows, long_rows = (
        sum(len(page.rows) for page in paginate(script).pages) for script in (short_script, long_script)
    )
    return least_growth(
        lambda: paginate(long_script), lambda: paginate(short_script), longer=long_rows / short_rows, enough=MOST
    )


@pytest.mark.parametrize(
    ("unit", "times"),
    [
        ("Rain on the slip.\n", 500),
        ("Rain on the slip.\n\n", 500),
        ("INT. SHED - NIGHT\n\n", 500),
        ("NELL\n(low)\nGo.\n\n", 250),
        ("word ", 6000),
        ("x", 30000),
        ("渡", 15000),
        ("*a* ", 400),
    ],
    ids=["one action", "actions", "headings", "speeches", "one line", "one word", "one wide word", "marks"],
)
def test_time_is_proportional_to_length(unit: str, times: int) -> None:
    assert growth_of_a_row(unit * times, unit * times * LONGER) <= MOST


@pytest.mark.parametrize("cue", ["NELL", "NELL ^"])
def test_one_speech_of_very_many_lines_takes_time_in_proportion(cue: str) -> None:
    def speech(lines: int) -> str:
        return f"TOBIAS\nNo.\n\n{cue}\n" + "Rain on the slip.\n" * lines

    assert growth_of_a_row(speech(500), speech(500 * LONGER)) <= MOST
