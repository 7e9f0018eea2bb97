"""How long a script's line ends take to put back: against difflib's time for a few of its lines, and a parse of it."""

from __future__ import annotations

from difflib import SequenceMatcher

from screenplay import parse
from screenplay.next_draft import keep_line_ends
from tests.bench.stopwatch import least_seconds

LINES = [line for scene in range(100) for line in (f"INT. HUT {scene}", "", *(["Rain.", ""] * 20))]
CHANGED = [f"Sleet {at}." if at % 70 == 0 else line for at, line in enumerate(LINES)]
FEW = 420


def test_line_ends_of_a_long_script_take_less_time_than_reading_it_or_than_difflib_takes_for_a_tenth() -> None:
    before, after = "\r\n".join(LINES[:99]) + "\r\n" + "\n".join(LINES[99:]), "\n".join(CHANGED)
    assert len(LINES) == 10 * FEW

    ours, reading, difflibs = least_seconds(
        lambda: keep_line_ends(before, after),
        lambda: parse(before),
        lambda: SequenceMatcher(None, LINES[:FEW], CHANGED[:FEW], autojunk=False).get_opcodes(),
    )

    assert ours < reading
    assert ours < difflibs
