"""The layout printed as plain text."""

from __future__ import annotations

from screenplay import PageSetting, PaperSize, paginate, parse
from screenplay.printing.plain_text import print_pages

SCRIPT = """\
Title: The Slack
Author: Ivo Quent

INT. BOATHOUSE - NIGHT #12#

A lamp.

MARA
(low)
Who's there?

CUT TO:

===

EXT. QUAY - DAY

真理 waits.

MARA
No.

JOREN ^
Yes.
"""


def lines_of(**options: bool) -> list[str]:
    return print_pages(paginate(parse(SCRIPT)), **options).replace("\f", "<page>\n").split("\n")


def test_elements_stand_in_the_columns_of_the_trade() -> None:
    # Tenths of an inch from the paper's left edge: 1.5, 3.7, 3.1 and 2.5 in; transitions end at 7.5 in (C).
    lines = lines_of()
    assert " " * 15 + "A lamp." in lines
    assert " " * 37 + "MARA" in lines
    assert " " * 31 + "(low)" in lines
    assert " " * 25 + "Who's there?" in lines
    assert "CUT TO:".rjust(75) in lines


def test_scene_numbers_stand_in_both_margins_or_in_none() -> None:
    assert "          12   INT. BOATHOUSE - NIGHT".ljust(77) + "12" in lines_of()
    assert " " * 15 + "INT. BOATHOUSE - NIGHT" in lines_of(scene_numbers=False)


def test_a_script_that_numbers_no_scene_has_them_counted_when_asked() -> None:
    layout = paginate(parse("INT. SHED - DAY\n\nDark.\n\nEXT. QUAY - DAY\n\nRain.\n"))
    assert "          2    EXT. QUAY - DAY".ljust(77) + "2" in print_pages(layout, counted=True).split("\n")
    assert " " * 15 + "EXT. QUAY - DAY" in print_pages(layout).split("\n")
    assert print_pages(paginate(parse(SCRIPT)), counted=True) == print_pages(paginate(parse(SCRIPT)))


def test_a_form_feed_stands_before_each_page_and_its_number() -> None:
    lines = lines_of()
    breaks = [number for number, line in enumerate(lines) if line == "<page>"]
    assert len(breaks) == 2
    assert lines[breaks[0] + 1].strip().startswith("12")
    assert lines[breaks[1] + 1] == "2.".rjust(75)


def test_without_form_feeds_each_page_is_as_long_as_its_paper() -> None:
    # 6 lines to the inch on 11 in of Letter and 297 mm of A4: 66 and 70 (P, ISO 216; C).
    for paper, length in ((PaperSize.LETTER, 66), (PaperSize.A4, 70)):
        printed = print_pages(paginate(parse(SCRIPT), PageSetting(paper)), form_feeds=False)
        assert printed.count("\n") == 3 * length
        assert printed.split("\n")[2 * length + 2] == "2.".rjust(75)


def test_speeches_side_by_side_stand_so() -> None:
    assert f"{'':23}MARA{'':28}JOREN" in lines_of()


def test_a_script_that_prints_nothing_is_an_empty_text() -> None:
    assert print_pages(paginate(parse(""))) == ""
