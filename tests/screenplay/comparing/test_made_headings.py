"""A line that was made a scene heading, and a heading made a line: the same words, set otherwise."""

from __future__ import annotations

import pytest

from screenplay import compare
from tests.screenplay.comparing.test_comparison import FERRY, fates, placed


@pytest.mark.parametrize("heading", [".INTERCUT - FERRY / QUAY", ".INTERCUT - FERRY / QUAY #7#"])
def test_a_line_made_a_scene_heading_is_on_it_and_a_heading_made_a_line_on_that(heading: str) -> None:
    line = "INTERCUT - FERRY / QUAY"
    as_line = FERRY.replace("MARA\nNobody came", f"{line}\n\nMARA\nNobody came")
    as_heading = as_line.replace(line, heading)

    there, back = compare(as_line, as_heading), compare(as_heading, as_line)
    assert placed(there, line) == [heading]
    assert placed(back, heading) == [line]
    assert fates(there) | {line: "kept"} == fates(compare(as_line, as_line))
    assert fates(there)[line] == fates(back)[heading] == "reworded"
    assert there.added == back.added == ()


def test_of_lines_alike_the_one_that_stands_where_the_heading_is_was_made_one() -> None:
    old = "INT. MILL - DAY\n\nA gull counts the crates.\n\nLater.\n\nThe bell rings for nobody.\n\nLater.\n\nSnow.\n"
    comparison = compare(old, old.replace("nobody.\n\nLater.", "nobody.\n\n.LATER"))

    assert [(line.old, *line.new) for line in comparison.lines] == [(at, at) for at in range(1, 12, 2)]
