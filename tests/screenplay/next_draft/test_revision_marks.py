"""Which rows of a page get an asterisk."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from screenplay import PageSetting, compare, paginate, parse
from screenplay.next_draft import carry_pages
from screenplay.next_draft.revision_marks import marked_rows, marks_between
from screenplay.page import beginnings, page_swap
from screenplay.page.scene_numbers import SceneNumber
from tests.screenplay.scripts import any_text

BEFORE = """INT. SHED - NIGHT

Rain on the roof.

A lamp burns low on the bench by the door.

NELL
Tide turns at four.

TOBIAS
Then we go at three.
"""


def revised(before: str, after: str) -> list[str]:
    """The text of the rows with an asterisk."""
    layout = paginate(parse(after))
    rows = marked_rows(layout, marks_between(compare(before, after)))
    return [layout.pages[number - 1].rows[at].text.strip() for number in rows for at in sorted(rows[number])]


def test_nothing_is_revised_in_the_same_text() -> None:
    assert revised(BEFORE, BEFORE) == []


def test_a_reworded_line_is_revised() -> None:
    assert revised(BEFORE, BEFORE.replace("at four", "at five")) == ["Tide turns at five."]


def test_an_added_line_is_revised() -> None:
    assert revised(BEFORE, BEFORE.replace("A lamp", "Thunder.\n\nA lamp")) == ["Thunder."]


def test_the_row_after_a_cut_is_revised() -> None:
    after = BEFORE.replace("Rain on the roof.\n\n", "")
    assert revised(BEFORE, after) == ["A lamp burns low on the bench by the door."]


def test_the_last_row_is_revised_where_the_end_was_cut() -> None:
    after = BEFORE.replace("\nTOBIAS\nThen we go at three.\n", "")
    assert revised(BEFORE, after) == ["Tide turns at four."]


def test_of_a_long_paragraph_only_the_rows_with_changed_words_are_revised() -> None:
    tail = " ".join(f"plank{number}" for number in range(40))
    before = f"INT. SHED - NIGHT\n\nThe red lamp. {tail}\n"
    assert revised(before, before.replace("red", "wet")) == [
        paginate(parse(before.replace("red", "wet"))).pages[0].rows[2].text
    ]


def test_a_cut_within_a_line_is_revised_where_it_was() -> None:
    assert revised(BEFORE, BEFORE.replace("burns low ", "")) == ["A lamp on the bench by the door."]


def test_a_line_that_moved_is_revised_where_it_is_now() -> None:
    after = BEFORE.replace("Rain on the roof.\n\n", "") + "\nRain on the roof.\n"
    assert "Rain on the roof." in revised(BEFORE, after)


TWO_SCENES = f"""{BEFORE}
NELL
Both.

He counts the oars, one by one, and then counts them once more.

EXT. SLIPWAY - DAWN

Mist over the water, and no boat.

TOBIAS
Which of them did he take?
"""


def test_a_speech_that_moved_to_another_scene_is_revised_where_it_is_and_where_it_stood() -> None:
    moved = TWO_SCENES.replace("NELL\nBoth.\n\n", "") + "\nNELL\nBoth.\n"
    stood = "He counts the oars, one by one, and then counts them once"
    assert revised(TWO_SCENES, moved) == [stood, "NELL", "Both."]
    assert revised(TWO_SCENES, TWO_SCENES.replace("NELL\nBoth.\n\n", "")) == [stood]


def test_where_a_whole_scene_stood_that_moved_nothing_more_is_revised() -> None:
    shed, slipway = TWO_SCENES.split("EXT. SLIPWAY")
    rest = "\nINT. YARD - DAY\n\nHammers.\n"
    rows = revised(TWO_SCENES + rest, f"EXT. SLIPWAY{slipway}\n{shed}{rest.strip()}\n")
    assert rows[0] == "EXT. SLIPWAY - DAWN"
    assert not {"INT. SHED - NIGHT", "INT. YARD - DAY"} & {*rows}


def test_a_cut_in_a_scene_that_moved_is_revised_there() -> None:
    shed, slipway = TWO_SCENES.split("EXT. SLIPWAY")
    rest = "\nINT. YARD - DAY\n\nHammers.\n"
    cut = slipway.replace("TOBIAS\n", "NELL\nLook.\n\nTOBIAS\n")
    rows = revised(f"{shed}EXT. SLIPWAY{cut}{rest}", f"EXT. SLIPWAY{slipway}\n{shed}{rest.strip()}\n")
    assert "TOBIAS" in rows
    assert not {"INT. SHED - NIGHT", "INT. YARD - DAY"} & {*rows}


def test_what_does_not_print_is_not_revised() -> None:
    assert revised(BEFORE, "# Act\n\n" + BEFORE.replace("roof.", "roof. [[louder?]]")) == []


def test_a_scene_that_is_cut_under_the_lock_shows_in_its_omitted_alone() -> None:
    old_text = BEFORE + "\nEXT. SLIPWAY - DAWN\n\nMist over the water.\n\nINT. YARD - DAY\n\nHammers.\n"
    new_text = old_text.replace("EXT. SLIPWAY - DAWN\n\nMist over the water.\n\n", "")
    numbers = SceneNumber("1", 1), SceneNumber("2", 2), SceneNumber("3", 3)
    after = SceneNumber("1", 1), SceneNumber("2", None), SceneNumber("3", 2)
    old, new = parse(old_text), parse(new_text)
    layout = paginate(new, PageSetting(scene_numbers=after))
    rows = marked_rows(layout, marks_between(compare(old, new), numbers, after))
    (page,) = layout.pages
    assert [page.rows[at].text for at in rows[1]] == ["OMITTED"]


TWO_SPEECHES = "INT. SHED - NIGHT\n\nNELL\nTide turns at four.\n\nTOBIAS{}\nThen we go at three.\n\nRain on the roof.\n"
SIDE_BY_SIDE = ["NELL                            TOBIAS", "Tide turns at four.             Then we go at three."]


def test_two_speeches_set_side_by_side_are_revised() -> None:
    assert revised(TWO_SPEECHES.format(""), TWO_SPEECHES.format(" ^")) == SIDE_BY_SIDE


def test_two_speeches_that_stood_side_by_side_are_revised() -> None:
    assert revised(TWO_SPEECHES.format(" ^"), TWO_SPEECHES.format("")) == [
        "NELL",
        "Tide turns at four.",
        "TOBIAS",
        "Then we go at three.",
    ]


APART = "INT. SHED - NIGHT\n\nRain on the roof, and on the water.\n\nA lamp burns low on the bench by the door.\n"
TOGETHER = APART.replace("water.\n\nA", "water.\nA")
ON_ONE_LINE = APART.replace("water.\n\nA", "water. A")


@pytest.mark.parametrize(("before", "after"), [(APART, TOGETHER), (TOGETHER, APART), (ON_ONE_LINE, APART)])
def test_paragraphs_joined_or_parted_are_revised_where_the_second_begins(before: str, after: str) -> None:
    assert revised(before, after) == ["A lamp burns low on the bench by the door."]


@pytest.mark.parametrize("before", [APART, TOGETHER])
def test_lines_that_are_one_now_are_revised_at_the_seam(before: str) -> None:
    assert revised(before, ON_ONE_LINE) == ["Rain on the roof, and on the water. A lamp burns low on the"]


def test_a_paragraph_parted_and_reworded_is_revised_where_its_words_changed_and_where_the_second_begins() -> None:
    after = APART.replace("Rain", "Hail").replace("the door", "a door")
    assert revised(ON_ONE_LINE, after) == [
        "Hail on the roof, and on the water.",
        "A lamp burns low on the bench by a door.",
    ]


SAID = "INT. SHED - NIGHT\n\nNELL\nThe tide turns at four, and the boat goes at three.{}Nobody waits for her then.\n"


@pytest.mark.parametrize("before", [" ", "\n"])
def test_a_blank_line_within_a_speech_marks_what_follows_it_alone(before: str) -> None:
    assert revised(SAID.format(before), SAID.format("\n  \n")) == ["Nobody waits for her then."]


def test_a_blank_line_taken_out_of_a_speech_marks_what_followed_it_alone() -> None:
    assert revised(SAID.format("\n  \n"), SAID.format("\n")) == ["Nobody waits for her then."]


def test_a_speech_that_a_blank_line_ends_marks_what_is_no_longer_said() -> None:
    assert revised(SAID.format("\n"), SAID.format("\n\n")) == ["Nobody waits for her then."]


def test_a_line_between_two_paragraphs_is_revised_and_not_the_paragraphs() -> None:
    assert revised(TOGETHER, TOGETHER.replace("A lamp", "Thunder.\nA lamp")) == ["Thunder."]


@settings(max_examples=40)
@given(any_text, any_text)
def test_every_revised_row_is_one_of_its_page_and_prints_something(before: str, after: str) -> None:
    layout = paginate(parse(after))
    for number, rows in marked_rows(layout, marks_between(compare(before, after))).items():
        assert all(layout.pages[number - 1].rows[at].cells for at in rows)


@settings(max_examples=40)
@given(any_text)
def test_no_row_of_the_same_text_is_revised(text: str) -> None:
    assert marked_rows(paginate(parse(text)), marks_between(compare(text, text))) == {}


def test_where_pages_are_swapped_alone_a_cut_at_the_end_of_one_is_marked_on_it() -> None:
    """The heading and 26 lines fill page 1, so the last of them is Line 26."""
    before = "INT. SHED\n\n" + "\n\n".join(f"Line {number}." for number in range(1, 61)) + "\n"
    after = before.replace("\n\nLine 26.", "")
    locked = carry_pages(beginnings(paginate(parse(before))), compare(before, after))
    layout = paginate(parse(after), PageSetting(locked_pages=locked))
    marks = marks_between(compare(before, after))
    assert [
        (page, layout.pages[page - 1].rows[min(rows)].text) for page, rows in marked_rows(layout, marks).items()
    ] == [(2, "Line 27.")]
    swapped = page_swap(paginate(parse(before)), layout).into
    assert swapped == ("1",)
    rows = marked_rows(layout, marks, swapped)
    assert [(page, layout.pages[page - 1].rows[min(rows[page])].text) for page in rows] == [(1, "Line 25.")]
