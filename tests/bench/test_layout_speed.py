"""Laying out takes time in proportion to the number of rows, whatever they hold."""

from __future__ import annotations

from functools import partial

import pytest

from screenplay import paginate, parse
from tests.bench.stopwatch import least_seconds


def seconds_a_row(*texts: str) -> list[float]:
    """The least processor time for a row of each text laid out."""
    scripts = [parse(text) for text in texts]
    rows = [sum(len(page.rows) for page in paginate(script).pages) for script in scripts]
    times = least_seconds(*[partial(paginate, script) for script in scripts])
    return [time / count for time, count in zip(times, rows, strict=True)]


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
    # Eight times the text would take eight times as long a row, were it quadratic.
    long, short = seconds_a_row(unit * times * 8, unit * times)
    assert long < 3 * short


@pytest.mark.parametrize("cue", ["NELL", "NELL ^"])
def test_one_speech_of_very_many_lines_takes_time_in_proportion(cue: str) -> None:
    def speech(lines: int) -> str:
        return f"TOBIAS\nNo.\n\n{cue}\n" + "Rain on the slip.\n" * lines

    long, short = seconds_a_row(speech(4000), speech(500))
    assert long < 3 * short
