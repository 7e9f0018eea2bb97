"""What this app prints, taken in again: the script and nothing that stood beside it or after it."""

from __future__ import annotations

import pytest

from screenplay import lay_out, parse
from screenplay.intake import from_columns
from screenplay.page import PageSetting, SceneNumber
from screenplay.printing import Header, ListedNote, ListedNotes, print_pages, typeset
from tests.read_back import read_here

TITLE = (
    "Title: THE SLACK\nCredit: written by\nAuthor: Ivo Quent\nDraft date: {}\n"
    "Contact:\n    Ivo Quent\n    ivo@example.org\n"
)
SCENES = (
    "INT. BOATHOUSE - NIGHT #1#\n\nRain on a tin roof.\n\nMARA\nYou came back for the tide table.\n\n"
    "JOREN\nI came back for the boat.\n\nEXT. QUAY - DAY #3#\n\nThey look at the water.\n\n"
    "MARA\nIt is the same thing.\n\nEXT. SLIPWAY - DAY #5#\n\nNobody.\n"
)
SCRIPT = f"{TITLE.format('3 February 2025')}\n{SCENES}"
CUT = PageSetting(
    scene_numbers=(
        SceneNumber("1", 1),
        SceneNumber("2", None),
        SceneNumber("3", 2),
        SceneNumber("4", None),
        SceneNumber("5", 3),
    )
)
NOTES = tuple(
    ListedNote(
        "Page 1, scene 1: idea", "Rain on a tin roof.", "INT. would be drier.", "Yusuf Hadžić, Direction", "Sun."
    )
    for _ in range(12)
)


def test_omitted_is_no_scene_and_is_told_as_left_out() -> None:
    pages = lay_out(parse(SCRIPT), CUT)

    for converted in (from_columns(print_pages(pages.layout)), read_here(typeset(pages, scene_numbers=True))):
        assert converted.text == SCRIPT
        assert converted.dropped["OMITTED, for scenes that were cut"] == 2


def test_omitted_without_its_number_is_no_line_either() -> None:
    without = from_columns(print_pages(lay_out(parse(SCRIPT), CUT).layout, scene_numbers=False))

    assert "OMITTED" not in without.text
    assert without.dropped["OMITTED, for scenes that were cut"] == 2


def test_omitted_that_somebody_says_is_theirs() -> None:
    script = SCRIPT.replace("It is the same thing.", "OMITTED")

    assert from_columns(print_pages(lay_out(parse(script)).layout)).text == script


@pytest.mark.parametrize(
    ("notes", "header", "count"),
    [(NOTES[:1], "", 1), (NOTES, "Draft 3", 2), ((), "", 1)],
    ids=["one note", "many notes under a header", "no note"],
)
def test_open_notes_that_are_printed_after_the_script_are_no_lines_of_it(
    notes: tuple[ListedNote, ...], header: str, count: int
) -> None:
    listed = ListedNotes(notes, "Notes for the writer’s eyes only are left out.")
    converted = read_here(typeset(lay_out(parse(SCRIPT)), header=Header(header), scene_numbers=True, notes=listed))

    assert converted.text == SCRIPT
    assert converted.dropped["pages that list open notes"] == count


def test_the_page_about_the_copy_is_no_page_of_the_script() -> None:
    listed = ListedNotes((NOTES[0],))
    script = SCRIPT.replace("Nobody.", "Nobody \U000130b8 comes.")
    converted = read_here(typeset(lay_out(parse(script)), notes=listed))

    assert "About this copy" not in converted.text
    assert converted.dropped["pages about the printed copy"] == 1
    assert converted.dropped["pages that list open notes"] == 1


def test_a_script_that_speaks_of_open_notes_keeps_its_pages() -> None:
    script = SCRIPT.replace("Rain on a tin roof.", "9 open notes\n\nShe plays them.")
    converted = read_here(typeset(lay_out(parse(script)), scene_numbers=True))

    assert converted.text == script
    assert "pages that list open notes" not in converted.dropped


@pytest.mark.parametrize("date", ["20 March", "March 20", "2 May", "the 3rd of June", "12th April", "20.3.2025"])
def test_a_date_at_the_foot_of_the_title_page_is_no_contact(date: str) -> None:
    script = f"{TITLE.format(date)}\n{SCENES}"

    assert from_columns(print_pages(lay_out(parse(script)).layout)).text == script
