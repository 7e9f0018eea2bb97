"""Comparing two drafts takes time in proportion to a line's length, whatever openings in it never close.

Processor time of the comparison and of the question whether what became of each line is out of sight.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from screenplay import compare, parse
from tests.bench.stopwatch import least_growth

if TYPE_CHECKING:
    from screenplay import Screenplay

SHORT, LONGER = 1_000, 8  # times a unit; times
MOST = 2.0  # a quadratic step would need 8


@pytest.mark.parametrize("unit", ["[[ ", "/* ", "[[ /* ", "[[a]] ", "*a [[ "])
def test_time_is_in_proportion_to_length(unit: str) -> None:
    short, long = (
        [parse(f"INT. HUT - DAY\n\n{unit * times}{end}\n") for end in ("Rain.", "Fog.")]
        for times in (SHORT, SHORT * LONGER)
    )

    def tell(old: Screenplay, new: Screenplay) -> None:
        comparison = compare(old, new)
        for fate in comparison.lines:
            comparison.is_out_of_sight(fate)

    growth = least_growth(lambda: tell(*long), lambda: tell(*short), longer=LONGER, enough=MOST)
    assert growth <= MOST
