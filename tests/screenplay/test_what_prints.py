"""What prints is what has a place on the page."""

from __future__ import annotations

from hypothesis import example, given, settings
from hypothesis import strategies as st

from screenplay import parse
from screenplay.page import arrangement
from screenplay.what_prints import lines_that_print
from tests.screenplay.page.test_layout_laws import SCRIPTS
from tests.screenplay.scripts import any_text


@settings(max_examples=60, deadline=None)
@given(st.one_of(any_text, SCRIPTS))
@example("INT. HUT - DAY\n\n**\n\nNELL\n**\n[[fog]]\n\n===\n\n# Act\n")
def test_the_lines_that_print_are_those_that_have_a_place_on_the_page(text: str) -> None:
    script = parse(text)
    assert list(lines_that_print(script)) == sorted(arrangement(script))
