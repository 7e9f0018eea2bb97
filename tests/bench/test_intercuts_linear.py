"""A breakdown takes time in proportion to a script's length, though each of its scenes is cut together with another: a
scene of a long script takes at most twice as long as one of a short. So it does to the length of a single heading.

Processor time of the breakdown alone.
"""

from __future__ import annotations

import pytest

from screenplay import lay_out, parse
from screenplay.breakdown import break_down
from tests.bench.stopwatch import least_growth

SHORT, LONGER = 100, 6  # scenes; times
MOST = 2.0


SAYS = ["WITH ROOM {other}", "P{scene} / P{other}", "ROOM 7 / ROOM {other}", "WITH P7", "SCENES {scene}-{other}"]


@pytest.mark.parametrize("says", SAYS)
def test_time_is_in_proportion_to_length(says: str) -> None:
    def script(scenes: int) -> str:
        lines = (says.format(scene=scene, other=scene * 7 % scenes) for scene in range(scenes))
        return "".join(
            f"INT. ROOM {scene} - DAY #{scene}#\n\nP{scene}\nHello?\n\nINTERCUT {line}\n\n"
            for scene, line in enumerate(lines)
        )

    short, long = lay_out(parse(script(SHORT))), lay_out(parse(script(SHORT * LONGER)))
    break_down(short)

    growth = least_growth(lambda: break_down(long), lambda: break_down(short), longer=LONGER, enough=MOST)
    assert growth <= MOST


REPEATED = 600  # times in a short heading


@pytest.mark.parametrize(
    ("begins", "unit"),
    [*(("INT. A ", unit) for unit in (", ", "/ ", "and ", " ", "a - ")), (".INTERCUT SCENES 1", "-2")],
)
def test_time_is_in_proportion_to_the_length_of_a_heading(begins: str, unit: str) -> None:
    def script(times: int) -> str:
        return f"{begins}{unit * times}B\n\nRain.\n"

    short, long = lay_out(parse(script(REPEATED))), lay_out(parse(script(REPEATED * LONGER)))
    break_down(short)

    growth = least_growth(lambda: break_down(long), lambda: break_down(short), longer=LONGER, enough=MOST)
    assert growth <= MOST
