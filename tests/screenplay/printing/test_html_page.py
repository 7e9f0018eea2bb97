"""A script as one HTML file."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from bleach._vendor.html5lib import HTMLParser  # type: ignore[import-not-found]
from bs4 import BeautifulSoup
from hypothesis import given
from hypothesis import strategies as st

from screenplay import PageSetting, PaperSize, lay_out, paginate, parse
from screenplay.model import Kind
from screenplay.page import LockedPage
from screenplay.printing.html_page import web_page
from tests.read_back import elements_of

SCRIPT = """\
Title: _The **Slack**_
Credit: written by
Author: Ivo Quent
Draft date: 3 May 2026
Unit: Second

INT. BOATHOUSE - NIGHT

A lamp & a <net>.
    It swings.

MARA (V.O.)
(low)
Who's *there*?

JOREN ^
Nobody.

~Row, row
~to the weir

> THE END <

> CUT TO:

EXT. QUAY - DAY

[[Too slow?]] Rain.
"""
DEMO = Path(__file__).parents[3] / "review" / "demo" / "first-draft.fountain"


def page_of(text: str, **options: str | bool) -> BeautifulSoup:
    return BeautifulSoup(web_page(lay_out(parse(text)), **options), "html.parser")  # type: ignore[arg-type]


def html_of(text: str) -> str:
    return re.sub(r"\s*\n\s*", "", web_page(lay_out(parse(text))).split("<article>")[1].split("</article>")[0])


def test_a_scene_heading_is_a_heading_of_the_second_level() -> None:
    assert [heading.text for heading in page_of(SCRIPT).select("article > h2")] == [
        "INT. BOATHOUSE - NIGHT",
        "EXT. QUAY - DAY",
    ]


def test_the_title_page_is_the_header_and_its_title_the_only_heading_of_the_first_level() -> None:
    page = page_of(SCRIPT, about="Draft 2 · Blue")
    assert [heading.decode_contents() for heading in page.select("h1")] == ["<u>The </u><strong><u>Slack</u></strong>"]
    assert [line.text for line in page.select("header p")] == [
        "written by",
        "Ivo Quent",
        "3 May 2026",
        "Unit: Second",
        "Draft 2 · Blue",
    ]


def test_a_script_without_a_title_page_has_a_title_all_the_same() -> None:
    assert page_of("Rain.\n").select_one("h1").text == "Screenplay"  # type: ignore[union-attr]
    page = page_of("Rain.\n", title="Slack & Water")
    assert page.select_one("title").text == page.select_one("h1").text == "Slack & Water"  # type: ignore[union-attr]


def test_a_speech_is_its_cue_and_what_stands_under_it() -> None:
    assert html_of("MARA (V.O.)\n(low)\nWho's *there*?\nWho?\n") == (
        '<div class="speech"><p class="character">MARA (V.O.)</p><p class="parenthetical">(low)</p>'
        '<p class="dialogue">Who\'s <em>there</em>?<br>Who?</p></div>'
    )


def test_two_speeches_side_by_side_stand_together() -> None:
    pair = page_of(SCRIPT).select(".dual > .speech .character")
    assert [cue.text for cue in pair] == ["MARA (V.O.)", "JOREN"]


def test_lines_and_indents_of_an_action_are_kept() -> None:
    assert '<p class="action">A lamp &amp; a &lt;net&gt;.<br>    It swings.</p>' in html_of(SCRIPT)


def test_songs_centred_lines_and_transitions_are_told_by_their_names() -> None:
    html = html_of(SCRIPT)
    assert '<p class="lyric">Row, row<br>to the weir</p>' in html
    assert '<p class="centered">THE END</p>' in html
    assert '<p class="transition">CUT TO:</p>' in html


def test_what_does_not_print_is_not_there() -> None:
    page = page_of("# Act\n\n= A summary.\n\n/* cut */\n\n[[note]]\n\nRain.\n\n===\n\nSun.\n")
    assert [line.text for line in page.select("article > *")] == ["Rain.", "2.", "Sun."]


def test_text_is_never_taken_for_markup() -> None:
    page = page_of('Title: </title><script>a()</script>\n\n<img src=x onerror="a()">\n\n@<b>M</b>\n<i>No.</i>\n')
    assert not page.select("script, img, b, i")
    assert page.select_one(".character").text == "<b>M</b>"  # type: ignore[union-attr]


def test_it_says_its_language_and_needs_nothing_from_elsewhere() -> None:
    page = page_of(SCRIPT, language="nb")
    assert page.select_one("html")["lang"] == "nb"  # type: ignore[index]
    assert not page.select("script, link, img, [src], [href], [style]")
    assert "url(" not in page.select_one("style").text  # type: ignore[union-attr]


def test_scene_numbers_are_the_script_s_own_or_counted_when_asked() -> None:
    def numbers(text: str, scene_numbers: bool) -> list[str]:
        return [number.text for number in page_of(text, scene_numbers=scene_numbers).select("h2 .number")]

    assert numbers(SCRIPT, True) == ["1", "2"]
    assert numbers(SCRIPT, False) == []
    assert numbers("INT. SHED - DAY #4A#\n\nDark.\n\nEXT. QUAY - DAY\n\nRain.\n", True) == ["4A"]
    assert numbers("INT. SHED - DAY #4A#\n\nDark.\n", False) == []


def test_a_page_is_marked_where_it_begins_within_a_line_too() -> None:
    text = "Rain. " * 700
    page = page_of(text)
    marks = page.select('p > span[role="doc-pagebreak"]')
    assert [mark["id"] for mark in marks] == ["page-2"]
    layout = paginate(parse(text))
    before = "".join(marks[0].find_all_previous(string=True)[0])
    assert len(before) == layout.pages[1].rows[0].runs[0].start


def test_pages_follow_the_script_s_setting() -> None:
    script = parse("Rain.\n\n" * 28)
    assert 'id="page-2"' in web_page(lay_out(script))
    assert 'id="page-2"' not in web_page(lay_out(script, PageSetting(PaperSize.A4)))


def test_locked_pages_are_marked_by_what_they_are_called() -> None:
    setting = PageSetting(locked_pages=(LockedPage("1", 1), LockedPage("2-3", 3)))
    page = BeautifulSoup(web_page(lay_out(parse("Rain.\n\nFog.\n\n===\n\nSnow.\n"), setting)), "html.parser")
    marks = page.select('[role="doc-pagebreak"]')
    assert [(mark["id"], mark.get_text()) for mark in marks] == [("page-2-3", "2-3."), ("page-3A", "3A.")]


@pytest.mark.parametrize("text", [SCRIPT, DEMO.read_text(encoding="utf-8"), "", "\x00\x0b\x85 \ud800 a\n"])
def test_it_is_html_without_a_fault(text: str) -> None:
    # The HTML Standard's parser, as html5lib has it, raises at the first error in strict mode.
    HTMLParser(strict=True).parse(web_page(lay_out(parse(text))))


def test_all_that_is_printed_is_there_once_and_in_order() -> None:
    text = DEMO.read_text(encoding="utf-8")
    page = page_of(text)
    for mark in page.select(".page"):
        mark.extract()
    for line_end in page.select("br"):
        line_end.replace_with("\n")
    shown = [line for block in page.select("article h2, article p") for line in block.text.split("\n")]
    assert [" ".join(line.split()) for line in shown] == [element.text for element in elements_of(parse(text))]


@given(st.text(alphabet="AaИ*_\\~>^@.!#()[]/=-: \t\n<&\"'\u3000山\u0301", max_size=200))
def test_any_script_s_words_come_through(text: str) -> None:
    script = parse(text)
    HTMLParser(strict=True).parse(web_page(lay_out(script)))
    page = BeautifulSoup(web_page(lay_out(script)), "html.parser")
    for mark in page.select(".page, .number, header"):
        mark.extract()
    printed = [element.text for element in elements_of(script) if element.kind != Kind.TITLE_PAGE]
    assert "".join(page.select_one("article").text.split()) == "".join("".join(printed).split())  # type: ignore[union-attr]
