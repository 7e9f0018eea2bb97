"""A character's sides: which pages they have, and what is marked on them."""

from __future__ import annotations

import pytest

from screenplay import PageSetting, PaperSize, lay_out, parse
from screenplay.printing import Header, sides
from screenplay.printing.typesetting import NotInScript
from screenplay.script import part_of
from tests.pdf import Sheet, bookmarks, page_labels, sheets

SCRIPT = """Title: Slack Water

INT. FERRY - NIGHT

Rain. @ nobody.

MARA
It won't hold.

JOREN
It will.

===

EXT. QUAY - DAY

Sun on the water.

JOREN
Nobody here.

===

INT. WHEELHOUSE - NIGHT

Mara sleeps.

===

EXT. ROAD - DAY

JOREN
Left.

EXT. ROAD, FURTHER ON - DAY

MARA (V.O.)
Right.
"""


def marked(page: Sheet) -> list[str]:
    """The lines of a page that stand on a tint, from its top."""
    tints = [rect for rect in page.rects if rect["width"] > 100]
    lines = []
    for rect in sorted(tints, key=lambda rect: float(rect["top"])):
        within = [c for c in page.upright if rect["x0"] <= c["x0"] < rect["x1"] and _is_on(c, rect)]
        lines.append("".join(char["text"] for char in sorted(within, key=lambda char: float(char["x0"]))))
    return lines


def _is_on(char: dict[str, float], rect: dict[str, float]) -> bool:
    middle = (char["top"] + char["bottom"]) / 2
    return rect["top"] <= middle < rect["bottom"]


def greys(page: Sheet) -> dict[str, bool]:
    """Of each line, whether it is grey."""
    found = {}
    for line in filter(None, page.lines):
        found[line.strip()] = page.char(line.strip().split("  ")[0])["non_stroking_color"][0] > 0.3
    return found


def test_sides_are_the_pages_of_the_scenes_someone_is_in_under_their_own_numbers() -> None:
    data = sides(lay_out(parse(SCRIPT)), "MARA")
    assert page_labels(data) == ["1", "3", "4"]
    assert [page.head[-1].strip() for page in sheets(data)] == ["Sides: MARA", "3.", "4."]


def test_someone_who_is_only_seen_has_the_pages_too() -> None:
    assert part_of(parse(SCRIPT), "Mara").lines >= {25, 27}
    assert not part_of(parse("INT. A - DAY\n\nThe mara of the fens.\n"), "MARA").lines
    assert not part_of(parse("INT. A - DAY\n\nMarabou feathers.\n"), "MARA").lines
    assert part_of(parse("INT. A - DAY\n\nAn old man waits.\n"), "OLD MAN").lines


def test_their_speeches_are_marked_and_nobody_else_s() -> None:
    first, second, third = sheets(sides(lay_out(parse(SCRIPT)), "MARA"))
    assert marked(first) == ["MARA", "It won't hold."]
    assert marked(second) == []
    assert marked(third) == ["MARA (V.O.)", "Right."]


def test_scenes_of_others_on_the_same_page_are_grey() -> None:
    third = sheets(sides(lay_out(parse(SCRIPT)), "MARA"))[2]
    assert greys(third) == {
        "EXT. ROAD - DAY": True,
        "JOREN": True,
        "Left.": True,
        "EXT. ROAD, FURTHER ON - DAY": False,
        "MARA (V.O.)": False,
        "Right.": False,
    }


def test_bookmarks_lead_to_their_scenes_alone() -> None:
    assert bookmarks(sides(lay_out(parse(SCRIPT)), "mara")) == [
        ("1  INT. FERRY - NIGHT", 1),
        ("3  INT. WHEELHOUSE - NIGHT", 2),
        ("5  EXT. ROAD, FURTHER ON - DAY", 3),
    ]


def test_a_speech_over_two_pages_is_marked_on_both_with_what_the_layout_adds() -> None:
    said = "\n".join(f"Line {number}." for number in range(60))
    first, second = sheets(sides(lay_out(parse(f"INT. FERRY - NIGHT\n\nMARA\n{said}\n\nJOREN\nNo.\n")), "MARA"))
    assert marked(first)[-1] == "(MORE)"
    assert marked(second)[0] == "MARA (CONT'D)"
    assert len(marked(first)) + len(marked(second)) == 60 + 3


def test_of_two_speeches_side_by_side_only_theirs_is_marked() -> None:
    page = sheets(sides(lay_out(parse("INT. FERRY - NIGHT\n\nJOREN\nGo left.\n\nMARA ^\nGo right.\n")), "MARA"))[0]
    assert marked(page) == ["MARA", "Go right."]


def test_a_cue_again_side_by_side_that_belongs_to_another_is_not_marked() -> None:
    said = "\n".join(f"Line {number}." for number in range(70))
    text = f"INT. FERRY - NIGHT\n\nJOREN\n{said}\n\nMARA ^\n{said}\n"
    for page in sheets(sides(lay_out(parse(text)), "MARA")):
        assert "JOREN" not in " ".join(marked(page))


def test_the_head_names_the_character_over_the_draft() -> None:
    page = sheets(sides(lay_out(parse(SCRIPT)), "mara", header=Header("Second pass", "Blue")))[0]
    assert page.head == ["Sides: MARA", "Second pass · Blue"]


def test_a_name_and_scene_numbers_are_set_as_in_the_script() -> None:
    pages = sheets(
        sides(lay_out(parse(SCRIPT), PageSetting(PaperSize.A4)), "MARA", name="Ana Marku", scene_numbers=True)
    )
    assert [page.slanted for page in pages] == ["Ana Marku"] * 3
    assert [list(page.left_margin.values()) for page in pages] == [["1"], ["3"], ["4", "5"]]
    assert pages[0].height == pytest.approx(841.89, abs=0.01)


@pytest.mark.parametrize("character", ["IVO", "", "RAI"])
def test_someone_who_is_in_no_scene_has_no_sides(character: str) -> None:
    with pytest.raises(NotInScript):
        sides(lay_out(parse(SCRIPT)), character)
