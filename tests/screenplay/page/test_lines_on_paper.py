"""How lines stand to each other on the paper."""

from __future__ import annotations

from hypothesis import given, settings

from screenplay import parse
from screenplay.page import LineOnPaper, arrangement, paginate
from tests.screenplay.scripts import any_text

SCRIPT = "INT. SHED\n\nRain.\nWind.\n\nNELL\nHark.\n  \nThere.\n\nTOBIAS ^\nWhat?\n"


def test_a_line_stands_under_another_or_begins_a_paragraph() -> None:
    found = arrangement(parse(SCRIPT))
    assert [found[line] for line in (1, 3, 4)] == [LineOnPaper("", None), LineOnPaper("", None), LineOnPaper("", 0)]


def test_speeches_side_by_side_have_a_side_and_their_own_blank_lines() -> None:
    found = arrangement(parse(SCRIPT))
    assert [found[line] for line in (6, 7, 9)] == [
        LineOnPaper("left", None),
        LineOnPaper("left", 0),
        LineOnPaper("left", 1),
    ]
    assert [found[line] for line in (11, 12)] == [LineOnPaper("right", None), LineOnPaper("right", 0)]


@settings(max_examples=60)
@given(any_text)
def test_each_line_on_a_page_stands_somehow_and_no_other(text: str) -> None:
    script = parse(text)
    assert set(arrangement(script)) == set(paginate(script).page_of)
