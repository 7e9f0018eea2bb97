"""Two texts made from one are put together: what one side changed is in, and what both did differently is stated."""

from __future__ import annotations

import pytest

from screenplay import parse
from screenplay.next_draft import Conflict, merge
from screenplay.next_draft.merged_text import ConflictKind

BASE = "INT. FERRY - DAY\n\nRain.\n\nMARA\nHold on.\n"
TWO_SCENES = "INT. FERRY - DAY\n\nRain.\n\nEXT. PIER - DAY\n\nFog.\n"


def test_what_each_side_changed_alone_is_taken_over() -> None:
    ours, theirs = BASE.replace("Rain.", "Fog."), BASE.replace("Hold on.", "Let go.")
    assert merge(BASE, ours, theirs).text == "INT. FERRY - DAY\n\nFog.\n\nMARA\nLet go.\n"


def test_lines_that_both_changed_in_their_own_way_are_a_conflict() -> None:
    merged = merge(BASE, BASE.replace("Rain.", "Fog."), BASE.replace("Rain.", "Hail."))
    assert merged.conflicts == (Conflict("Rain.\n", "Fog.\n", "Hail.\n"),)
    assert merged.text is None
    assert merged.settled(["Sun.\n"]) == BASE.replace("Rain.", "Sun.")


def test_a_choice_is_wanted_for_each_conflict() -> None:
    with pytest.raises(ValueError, match="1 conflicts and 0 choices"):
        merge("a\n", "b\n", "c\n").settled([])


def test_scripts_already_read_are_merged_as_their_texts_are() -> None:
    ours, theirs = BASE.replace("Rain.", "Fog."), BASE.replace("Hold on.", "Let go.")
    assert merge(parse(BASE), parse(ours), parse(theirs)) == merge(BASE, ours, theirs)


def test_a_choice_typed_without_a_line_end_gets_the_one_that_it_stands_for() -> None:
    base = BASE.replace("\n", "\r\n")
    merged = merge(base, base.replace("Rain.", "Fog."), base.replace("Rain.", "Hail."))
    assert merged.settled(["Sun."]) == base.replace("Rain.", "Sun.")


def test_a_choice_typed_in_the_place_of_a_scene_leaves_the_next_heading_a_heading() -> None:
    ours, theirs = TWO_SCENES[TWO_SCENES.index("EXT.") :], TWO_SCENES.replace("Rain", "Hail")
    merged = merge(TWO_SCENES, ours, theirs)
    assert [conflict.kind for conflict in merged.conflicts] == [ConflictKind.CUT]
    settled = merged.settled(["INT. FERRY - DAY\n\nSun."])
    assert settled == TWO_SCENES.replace("Rain", "Sun")
    assert merged.settled([""]) == ours


def test_a_text_without_a_last_line_end_has_none_after_a_choice_either() -> None:
    base = BASE.rstrip("\n")
    merged = merge(base, base.replace("Hold on.", "Let go."), base.replace("Hold on.", "Jump."))
    assert [merged.settled([choice]) for choice in ("Stay.", "")] == [
        base.replace("Hold on.", "Stay."),
        base.replace("Hold on.", ""),
    ]


def test_of_a_scene_moved_apart_one_place_can_be_chosen() -> None:
    first, second, third = "INT. A\n\nRain.\n\n", "INT. B\n\nFog over it.\n\n", "INT. C\n\nSnow.\n\n"
    base = first + second + third
    merged = merge(base, second + first + third, first + third + second)
    assert [conflict.kind for conflict in merged.conflicts] == [ConflictKind.MOVED, ConflictKind.MOVED]
    assert merged.settled([second, ""]) == second + first + third
    assert merged.settled(["", second]) == first + third + second


def test_blanks_that_one_trimmed_at_a_line_s_end_are_no_change_of_its_words() -> None:
    base = BASE.replace("Rain.", "Rain.  ")
    assert merge(base, BASE, base.replace("Rain.", "Hail.")).text == base.replace("Rain.", "Hail.")


def test_blanks_at_a_line_s_end_go_along_with_what_the_other_changed_elsewhere() -> None:
    base = BASE.replace("Rain.", "Rain.  ")
    assert merge(base, BASE, base.replace("Hold on.", "Let go.")).text == BASE.replace("Hold on.", "Let go.")


def test_blanks_that_keep_a_speech_open_are_a_change_beside_what_the_other_reworded() -> None:
    """A line of two blanks stands within a speech (F10 of the rules)."""
    base = BASE + "\nStay.\n"
    merged = merge(base, base.replace("on.\n\n", "on.\n  \n"), base.replace("Stay.", "Go."))
    assert merged.conflicts == (Conflict("\nStay.\n", "  \nStay.\n", "\nGo.\n"),)


def test_a_scene_that_both_added_is_there_once_whatever_blanks_end_its_lines() -> None:
    scene = "\nEXT. PIER - DAY\n\nFog.\n"
    merged = merge(BASE, BASE + scene, BASE + scene.replace("DAY", "DAY  "))
    assert merged.text == BASE + scene.replace("DAY", "DAY  ")


PIER = "EXT. PIER - DAY\n\nFog.\n\nGulls.\n"
THREE_SCENES = f"INT. FERRY - DAY\n\nRain.\n\n{PIER}\nINT. HUT - NIGHT\n\nDark.\n"


@pytest.mark.parametrize(
    ("before", "after"),
    [("/*\n", "*/\n"), ("/*\n\n", "\n*/\n"), ("/* ", "\n*/\n")],
    ids=["near", "apart", "on the line"],
)
def test_a_scene_put_into_a_boneyard_that_the_other_rewrote_is_asked_about_as_a_whole(before: str, after: str) -> None:
    """Common practice: what is kept in a boneyard is cut, and prints nowhere."""
    hidden = f"{before}{PIER}{after}"
    ours, theirs = THREE_SCENES.replace(PIER, hidden), THREE_SCENES.replace("Fog.", "Haar.")
    merged = merge(THREE_SCENES, ours, theirs)
    assert merged.conflicts == (Conflict(PIER, hidden, PIER.replace("Fog.", "Haar.")),)
    assert [merged.settled([conflict]) for conflict in (merged.conflicts[0].ours, merged.conflicts[0].theirs)] == [
        ours,
        theirs,
    ]


def test_lines_put_into_a_note_that_the_other_rewrote_are_asked_about_as_a_whole() -> None:
    lines, noted = "Fog.\nGulls.\nWaves.\n", "[[\nFog.\nGulls.\nWaves.\n]]\n"
    base = THREE_SCENES.replace("Fog.\n\nGulls.\n", lines)
    merged = merge(base, base.replace(lines, noted), base.replace("Gulls.", "Terns."))
    assert merged.conflicts == (Conflict(lines, noted, lines.replace("Gulls.", "Terns.")),)


def test_what_was_written_at_the_end_of_a_scene_that_went_into_a_boneyard_is_not_left_to_the_scene_before() -> None:
    ours = THREE_SCENES.replace(PIER, f"/*\n{PIER}*/\n")
    theirs = THREE_SCENES.replace("Gulls.\n", "Gulls.\n\nTerns.\n")
    merged = merge(THREE_SCENES, ours, theirs)
    assert merged.settled([conflict.theirs for conflict in merged.conflicts]) == theirs


def test_no_answer_leaves_a_boneyard_open_where_the_other_wrote_at_the_end_of_the_scene() -> None:
    ours = THREE_SCENES.replace(PIER, f"/*\n{PIER}\n*/\n")
    theirs = THREE_SCENES.replace("Gulls.\n", "Gulls.\n\nTerns.\n")
    merged = merge(THREE_SCENES, ours, theirs)
    chosen = [merged.settled([getattr(conflict, side) for conflict in merged.conflicts]) for side in ("ours", "theirs")]
    assert chosen == [ours, theirs]


def test_a_scene_in_a_boneyard_stays_there_with_what_the_other_changed_around_it() -> None:
    ours = THREE_SCENES.replace(PIER, f"/*\n{PIER}*/\n")
    merged = merge(THREE_SCENES, ours, THREE_SCENES.replace("Rain.", "Sleet.").replace("Dark.", "Bright."))
    assert merged.text == ours.replace("Rain.", "Sleet.").replace("Dark.", "Bright.")


def test_what_was_in_a_boneyard_already_is_changed_there() -> None:
    base = THREE_SCENES.replace(PIER, f"/*\n{PIER}*/\n")
    ours, theirs = base.replace("Fog.", "Haar."), base.replace("Gulls.", "Terns.")
    assert merge(base, ours, theirs).text == ours.replace("Gulls.", "Terns.")


def test_of_two_paragraphs_whose_order_changed_only_the_one_that_is_asked_about_is_shown() -> None:
    rain, skiff = "Rain on the roof.\n\n", "The skiff knocks.\n\n"
    base = f"INT. FERRY - DAY\n\n{rain}{skiff}MARA\nHold on.\n"
    merged = merge(base, base.replace(rain + skiff, skiff + rain), base.replace(rain, ""))
    assert merged.conflicts == (Conflict(rain, rain, "", ConflictKind.CUT),)
    assert merged.settled([""]) == base.replace(rain, "")
