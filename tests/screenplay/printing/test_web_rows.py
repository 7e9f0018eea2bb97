"""The rows of a page as HTML: every word stands at its offset in the source, and nothing of the source is markup."""

from __future__ import annotations

from pathlib import Path

import pytest
from bs4 import BeautifulSoup
from hypothesis import given, settings
from hypothesis import strategies as st

import review.demo
from screenplay import lay_out, parse
from screenplay.fountain import split_lines
from screenplay.printing import rows_as_html
from tests.drawn_lines import drawn_lines, number_of, pieces
from tests.factories import SCRIPT

DEMO = sorted(Path(review.demo.__file__).parent.glob("*.fountain"))
EVERY_ELEMENT = """Title: A _Low_ Bridge
Author:
    Someone Else

# Act one
= What happens

INT. A - DAY #12#

*Rain* on the **long** quay, \\*not\\* a [[mended]] net, /* cut */ and a line long enough to be broken twice or more.

!FORCED ACTION
~A lyric, sung

@McNair (O.S.)
(softly)
Go _on_.

NELL ^
Stay, ***all*** of you <b>, & go.

> CENTRED <

CUT TO:

===

EXT. B - NIGHT

A 🚤 goes by.
"""


def drawn(text: str) -> str:
    """Every page of a text, the title page first."""
    layout = lay_out(parse(text)).layout
    begun: set[int] = set()
    html = ""
    for rows in (layout.title_page, *(page.rows for page in layout.pages)):
        html += rows_as_html(rows, begun)
        begun |= {cell.line for row in rows for cell in row.cells if cell.line is not None}
    return html


def stands_where_it_says(text: str) -> int:
    """How many stretches of text were looked at, each of which is the source at its offset; a tab is four spaces."""
    source = [line.rstrip("\r\n") for line in split_lines(text)]
    looked_at = 0
    for line in drawn_lines(drawn(text)):
        for at, words in pieces(line):
            if "\t" not in source[number_of(line) - 1]:
                assert words == source[number_of(line) - 1][at : at + len(words)]
                looked_at += 1
    return looked_at


@pytest.mark.parametrize(
    "text",
    [SCRIPT, EVERY_ELEMENT, *(path.read_text(encoding="utf-8") for path in DEMO)],
    ids=["short", "every element", *(path.stem for path in DEMO)],
)
def test_every_word_is_the_source_at_its_offset(text: str) -> None:
    assert stands_where_it_says(text) > 10


@given(st.text(alphabet="aB <>&*_\\\n\t~@!.()^:[]/'é渡\r", max_size=200))
@settings(max_examples=60)
def test_whatever_is_written_stands_where_it_says_and_is_no_markup(text: str) -> None:
    stands_where_it_says(f"INT. A - DAY\n\n{text}\n")
    tags = {tag.name for tag in BeautifulSoup(drawn(text), "html.parser").find_all(True)}
    assert tags <= {"p", "h2", "br", "b", "i", "u", "span", "div"}


def test_a_line_carries_its_number_once() -> None:
    html = drawn(SCRIPT)
    assert html.count("13") == 1
    assert '<p id="L9" class="dialogue c10">Tide turns at four.</p>' in html


def test_a_row_keeps_the_space_it_was_broken_at_so_that_a_narrow_page_can_join_rows() -> None:
    text = "The tide turns, and " * 6 + "turns."
    [line] = drawn_lines(drawn(f"{text}\n"))
    assert line.get_text() == text
    assert len(line.select("br")) == 2


def test_a_row_broken_within_a_word_gets_no_space() -> None:
    [line] = drawn_lines(drawn("e" * 130 + "\n"))
    assert line.get_text() == "e" * 130


def test_a_line_over_two_pages_begins_on_the_first_and_goes_on_by_number_on_the_second() -> None:
    html = drawn("Rain.\n\n" * 24 + "The tide turns, and turns again. " * 40 + "\n")
    first, second = [line for line in drawn_lines(html) if number_of(line) == 49]
    assert first["id"] == "L49"
    assert "id" not in second.attrs
    assert f"{first.get_text()} {second.get_text()}" == ("The tide turns, and turns again. " * 40).rstrip()


def test_marks_of_style_are_elements_and_what_follows_them_says_where_it_is() -> None:
    [line] = drawn_lines(drawn("Go *at* _once_, **all** of ***you***.\n"))
    assert [(at, words) for at, words in pieces(line)] == [
        (0, "Go "), (4, "at"), (7, " "), (9, "once"), (14, ", "), (18, "all"), (23, " of "), (30, "you"), (36, "."),
    ]  # fmt: skip
    assert [tag.name for tag in line.select("b, i, u")] == ["i", "u", "b", "b", "i"]


def test_a_heading_is_one_and_its_number_is_heard_once() -> None:
    [heading] = drawn_lines(drawn("INT. A - DAY #7A#\n"))
    assert heading.name == "h2"
    numbers = heading.select(".margin-number")
    assert [number.get_text() for number in numbers] == ["7A", "7A"]
    assert [number.get("aria-hidden") for number in numbers] == [None, "true"]


def test_two_speeches_side_by_side_have_a_side_each_which_begins_at_its_own_edge() -> None:
    html = drawn("INT. A - DAY\n\nNELL\nGo.\n\nTOBIAS ^\nStay.\n")
    left, right = BeautifulSoup(html, "html.parser").select(".dual > .side")
    assert BeautifulSoup(html, "html.parser").select_one('.dual[role=group][aria-label="At the same time"]')
    assert [line["id"] for line in left.select("[id]")] == ["L3", "L4"]
    assert [line["id"] for line in right.select("[id]")] == ["L6", "L7"]
    assert "c8" in right.select("#L6")[0]["class"]
    assert right.select("#L7")[0]["class"] == ["dialogue"]


def test_rows_by_themselves_say_nothing_of_their_lines() -> None:
    page = lay_out(parse(SCRIPT)).layout.pages[0]
    html = rows_as_html(page.rows, with_lines=False)
    assert "id=" not in html
    assert "Tide turns at four." in html


def test_a_heading_without_a_number_is_counted_for_the_eye_alone() -> None:
    page = lay_out(parse("INT. A - DAY\n\nRain.\n\nINT. B - DAY #9#\n")).layout.pages[0]
    first, _, second = drawn_lines(rows_as_html(page.rows, counted={1: 1, 5: 2}))
    [count] = first.select(".margin-number")
    assert (count.get_text(), count["aria-hidden"]) == ("1", "true")
    assert [number.get_text() for number in second.select(".margin-number")] == ["9", "9"]
