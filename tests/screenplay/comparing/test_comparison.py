"""What became of lines and scenes, told on scripts of a few lines."""

from __future__ import annotations

import pytest

from screenplay import compare
from screenplay.comparing.comparison import Comparison, LineFateKind, Rename, SceneFateKind

FERRY = """\
INT. FERRY - ENGINE ROOM - NIGHT

Mara kneels by the diesel with a torch between her teeth.

MARA
It won't hold past the second buoy.
Not with that gasket.

JOREN
Then we turn back before the buoy.

The engine coughs twice and dies.

EXT. QUAY - DAWN

Gulls walk the length of the empty slip.

MARA
Nobody came to see the last boat in.

JOREN
They came yesterday, when it was on time.

INT. TICKET HALL - DAY

The clerk stamps an empty page, and then another one.

CLERK
Next, please, whoever you are.
"""


def scenes_of(text: str) -> list[str]:
    first, *rest = text.split("\nEXT. ")
    second, third = rest[0].split("\nINT. ")
    return [first, "\nEXT. " + second, "\nINT. " + third]


def fates(comparison: Comparison) -> dict[str, str]:
    """The fate of each old line, by its text."""
    source = comparison.old.source
    return {source[line.old - 1].strip(): line.fate.value for line in comparison.lines}


def placed(comparison: Comparison, text: str) -> list[str]:
    """The texts of the new lines that the old line with this text is on."""
    line = next(line for line in comparison.lines if comparison.old.source[line.old - 1].strip() == text)
    return [comparison.new.source[number - 1].strip() for number in line.new]


def told_scenes(comparison: Comparison) -> list[tuple[int | None, int | None, str]]:
    return [(scene.old, scene.new, scene.fate.value) for scene in comparison.scenes]


def test_a_draft_and_itself_have_every_line_and_scene_kept() -> None:
    comparison = compare(FERRY, FERRY)

    assert {line.fate for line in comparison.lines} == {LineFateKind.KEPT}
    assert all(line.new == (line.old,) for line in comparison.lines)
    assert comparison.added == ()
    assert comparison.renames == ()
    assert told_scenes(comparison) == [(1, 1, "kept"), (2, 2, "kept"), (3, 3, "kept")]


def test_every_old_line_that_is_not_blank_has_a_fate_and_no_other() -> None:
    comparison = compare(FERRY, "")

    numbers = [number for number, line in enumerate(FERRY.splitlines(), 1) if line.strip()]
    assert [line.old for line in comparison.lines] == numbers
    assert {line.fate for line in comparison.lines} == {LineFateKind.GONE}


def test_a_cut_line_is_gone_and_an_added_one_comes_from_nowhere() -> None:
    new = FERRY.replace("Not with that gasket.\n", "").replace("Gulls walk", "A dog sleeps on the ramp.\n\nGulls walk")
    comparison = compare(FERRY, new)

    assert [text for text, fate in fates(comparison).items() if fate != "kept"] == ["Not with that gasket."]
    assert [comparison.new.source[number - 1] for number in comparison.added] == ["A dog sleeps on the ramp.\n"]


def test_a_line_with_half_its_words_changed_is_reworded() -> None:
    new = FERRY.replace("It won't hold past the second buoy.", "This won't ever last past the third buoy.")
    comparison = compare(FERRY, new)

    assert fates(comparison)["It won't hold past the second buoy."] == "reworded"
    assert placed(comparison, "It won't hold past the second buoy.") == ["This won't ever last past the third buoy."]


def test_a_line_cut_where_another_is_added_is_no_rewording() -> None:
    new = FERRY.replace(
        "Gulls walk the length of the empty slip.", "Somewhere under the pier a radio plays dance music to itself."
    )
    comparison = compare(FERRY, new)

    assert fates(comparison)["Gulls walk the length of the empty slip."] == "gone"
    assert len(comparison.added) == 1


def test_lines_joined_are_both_on_the_line_that_has_them() -> None:
    whole = "It won't hold past the second buoy. Not with that gasket."
    comparison = compare(FERRY, FERRY.replace("buoy.\nNot with", "buoy. Not with"))

    for part in ("It won't hold past the second buoy.", "Not with that gasket."):
        assert fates(comparison)[part] == "joined"
        assert placed(comparison, part) == [whole]


def test_a_line_split_is_on_both_its_parts() -> None:
    old = FERRY.replace("buoy.\nNot with", "buoy. Not with")
    whole = "It won't hold past the second buoy. Not with that gasket."
    comparison = compare(old, FERRY)

    assert fates(comparison)[whole] == "split"
    assert placed(comparison, whole) == ["It won't hold past the second buoy.", "Not with that gasket."]
    assert comparison.added == ()


def test_a_cue_goes_where_its_speech_goes() -> None:
    """Both speeches are Mara's: the first is cut, and the cue left is the second's."""
    old = "INT. HALL - DAY\n\nMARA\nWhat did the harbour say?\n\nMARA\nNobody is coming for us tonight.\n"
    new = "INT. HALL - DAY\n\nMARA\nNobody is coming for us tonight.\n"
    comparison = compare(old, new)

    by_line = {line.old: line for line in comparison.lines}
    assert (by_line[3].fate, by_line[6].new) == (LineFateKind.GONE, (3,))


def test_a_speech_given_to_another_character_keeps_its_place() -> None:
    comparison = compare(FERRY, FERRY.replace("CLERK\n", "MARA\n"))

    assert fates(comparison)["CLERK"] == "reworded"
    assert comparison.renames == ()


def test_a_speech_moved_to_another_scene_takes_its_cue_along() -> None:
    speech = "JOREN\nThen we turn back before the buoy.\n\n"
    new = FERRY.replace(speech, "").replace("CLERK\n", speech + "CLERK\n")
    comparison = compare(FERRY, new)

    moved = [line for line in comparison.lines if line.fate is LineFateKind.MOVED]
    assert [comparison.old.source[line.old - 1] for line in moved] == speech.splitlines(keepends=True)[:2]
    assert [comparison.new.source[line.new[0] - 1] for line in moved] == speech.splitlines(keepends=True)[:2]


def test_white_space_is_no_change_of_a_line() -> None:
    comparison = compare(FERRY, FERRY.replace("\n", " \r\n").replace("Gulls walk", "Gulls  walk"))

    assert set(fates(comparison).values()) == {"kept"}


@pytest.mark.parametrize(
    ("new", "expected"),
    [
        ([0, 2], [(1, 1, "kept"), (2, None, "cut"), (3, 2, "kept")]),
        ([2, 0, 1], [(3, 1, "moved"), (1, 2, "kept"), (2, 3, "kept")]),
        ([0, 1], [(1, 1, "kept"), (2, 2, "kept"), (3, None, "cut")]),
    ],
)
def test_scenes_are_cut_and_moved(new: list[int], expected: list[tuple[int | None, int | None, str]]) -> None:
    old = scenes_of(FERRY)
    comparison = compare("".join(old), "".join(old[scene].lstrip() + "\n" for scene in new))

    assert told_scenes(comparison) == expected


def test_the_scene_put_between_the_parts_of_a_split_one_moved_and_not_the_one_it_passed() -> None:
    """However long it is: the part split off and what follows it stand in their order still."""
    mill, quay, ferry, slip = (
        [
            f"The {who} counts the {what} without a word."
            for what in ("crates", "lamps", "ropes", "nets", "oars", "bells")[:count]
        ]
        for who, count in (("miller", 6), ("harbour master", 2), ("pilot", 5), ("gull", 2))
    )
    before = [("INT. MILL", mill), ("EXT. QUAY", quay), ("INT. FERRY", ferry), ("EXT. SLIP", slip)]
    after = [("INT. MILL", mill[:3]), before[2], ("INT. LOFT", mill[3:]), before[1], before[3]]
    old, new = (
        "\n\n".join(line for heading, lines in scenes for line in [f"{heading} - DAY", *lines]) + "\n"
        for scenes in (before, after)
    )

    fates = [(1, 1, "split"), (3, 2, "moved"), (1, 3, "split"), (2, 4, "kept"), (4, 5, "kept")]
    assert told_scenes(compare(old, new)) == fates
    back = [(new, old, "merged" if fate == "split" else fate) for old, new, fate in fates]
    assert set(told_scenes(compare(new, old))) == set(back)


def test_a_scene_is_added() -> None:
    first, *rest = scenes_of(FERRY)
    added = "\nINT. CHAPEL - DAY\n\nA bell nobody rings is polished by a woman nobody knows.\n"

    assert told_scenes(compare(FERRY, first + added + "".join(rest))) == [
        (1, 1, "kept"),
        (None, 2, "added"),
        (2, 3, "kept"),
        (3, 4, "kept"),
    ]


def test_a_scene_with_another_heading_is_renamed_and_with_another_line_reworded() -> None:
    new = FERRY.replace("QUAY - DAWN", "QUAY - DUSK").replace("The engine coughs twice", "The engine coughs once")

    assert told_scenes(compare(FERRY, new)) == [(1, 1, "reworded"), (2, 2, "renamed"), (3, 3, "kept")]


PARLOUR = """INT. PARLOUR - DAY

Cat winds the clock until the spring gives way in her hand.

CAT
That was grandfather's.

The door opens. Nobody is there. Cat puts the key in her shoe.

CAT
Come in, then, whoever you are.

"""
PARTED = PARLOUR.replace("The door opens.", "INT. HALL - DAY\n\nThe door opens.")


def test_a_scene_that_is_split_and_stands_elsewhere_moved_with_all_its_parts() -> None:
    first, old = FERRY.index("EXT. QUAY"), f"{FERRY}\n{PARLOUR}"
    there = compare(old, FERRY[:first] + PARTED + FERRY[first:])
    back = compare(FERRY[:first] + PARTED + FERRY[first:], old)
    moved = [(scene.old, scene.new, scene.fate.value) for scene in there.scenes if scene.is_moved]
    assert moved == [(4, 2, "split"), (4, 3, "split")]
    assert {there.old.scene_of[line - 1] for line in there.moved} == {4}
    returned = [(scene.old, scene.new, scene.fate.value) for scene in back.scenes if scene.is_moved]
    assert returned == [(2, 4, "merged"), (3, 4, "merged")]


def test_a_scene_that_gets_a_number_is_kept_under_a_heading_that_is_numbered() -> None:
    old = "INT. KITCHEN - DAY\n\nKettle on.\n\nEXT. YARD - NIGHT #2#\n\nA dog barks.\n"
    new = old.replace("DAY", "DAY #1#").replace("#2#", "#3A#")
    for comparison in (compare(old, new), compare(new, old)):
        assert told_scenes(comparison) == [(1, 1, "kept"), (2, 2, "kept")]
        assert [line.fate for line in comparison.lines] == ["numbered", "kept"] * 2
    again = compare(old, new.replace("KITCHEN", "SCULLERY").replace("Kettle on.", "Kettle on, and off."))
    assert told_scenes(again)[0] == (1, 1, "renamed")
    assert next(line for line in again.lines if line.old == 1).fate == "reworded"


def test_a_heading_put_into_a_scene_splits_it_and_taken_out_merges_two() -> None:
    split = FERRY.replace("The engine coughs twice", "INT. FERRY - BRIDGE - NIGHT\n\nThe engine coughs twice").replace(
        "and dies.\n", "and dies.\n\nJoren taps the gauge.\n\nNothing moves but the water under the hull.\n"
    )
    whole = split.replace("INT. FERRY - BRIDGE - NIGHT\n\n", "")

    assert told_scenes(compare(whole, split))[:2] == [(1, 1, "split"), (1, 2, "split")]
    assert told_scenes(compare(split, whole))[:2] == [(1, 1, "merged"), (2, 1, "merged")]


def test_a_character_renamed_throughout_is_one_change() -> None:
    comparison = compare(FERRY, FERRY.replace("MARA", "EDIE").replace("Mara", "Edie"))

    assert comparison.renames == (Rename("MARA", "EDIE", "character"),)
    assert {scene.fate for scene in comparison.scenes} == {SceneFateKind.KEPT}
    changed = {line.old for line in comparison.lines if line.fate is LineFateKind.REWORDED}
    assert changed == comparison.renamed
    assert len(changed) == 3


def test_a_rename_is_told_once_for_those_it_is_part_of() -> None:
    old = FERRY + "\nMARA & JOREN\nNext!\n\nMARA & JOREN\nAnd the one after!\n"
    comparison = compare(old, old.replace("MARA", "EDIE").replace("Mara", "Edie"))

    assert [rename.old for rename in comparison.renames] == ["MARA"]


def test_a_character_who_has_one_line_in_another_s_name_is_not_renamed() -> None:
    comparison = compare(FERRY, FERRY.replace("MARA\nNobody", "JOREN\nNobody"))

    assert comparison.renames == ()


def test_a_place_renamed_throughout_is_one_change() -> None:
    old = FERRY + "\nEXT. QUAY - NIGHT\n\nThe slip is under water, and the lamps are on beneath it.\n"
    comparison = compare(old, old.replace("QUAY", "BREAKWATER"))

    assert comparison.renames == (Rename("QUAY", "BREAKWATER", "place"),)
    assert {scene.fate for scene in comparison.scenes} == {SceneFateKind.KEPT}


UNSEEN = "# Act Two\n\n= They leave.\n\n[[Too long?]]\n\n===\n\n"
QUAY = "EXT. QUAY - NIGHT\n\nThe slip is under water, and the lamps are on beneath it.\n\n"
HUT = "INT. HUT - NIGHT\n\nNobody has lit the stove since the winter. A dog sleeps.\n"


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (QUAY + HUT, QUAY + UNSEEN + HUT),
        (UNSEEN + QUAY + HUT, QUAY + UNSEEN + HUT),
        (QUAY + HUT, (QUAY + HUT).replace("A dog", "[[Whose?]] A dog").replace("HUT - NIGHT", "HUT - NIGHT [[x]]")),
        (QUAY + HUT, QUAY + "/*\nA gull.\n*/\n\n" + HUT),
    ],
)
def test_a_scene_in_which_all_that_prints_is_as_it_was_is_kept(old: str, new: str) -> None:
    for comparison in (compare(old, new), compare(new, old)):
        assert [scene.fate for scene in comparison.scenes] == [SceneFateKind.KEPT] * 2


def test_a_scene_is_reworded_by_a_line_that_prints_no_more() -> None:
    for hidden in ("[[A dog sleeps.]]", "/* A dog sleeps. */", ""):
        comparison = compare(QUAY + HUT, QUAY + HUT.replace("A dog sleeps.", hidden))
        assert [scene.fate for scene in comparison.scenes] == [SceneFateKind.KEPT, SceneFateKind.REWORDED]


def test_what_changed_in_a_line_out_of_sight_is_told_from_what_prints() -> None:
    old = QUAY + UNSEEN + HUT
    new = (QUAY + HUT + UNSEEN).replace("the lamps", "[[Which?]] the lamps").replace("A dog", "A cat")
    comparison = compare(old, new)

    told = {
        comparison.old.source[fate.old - 1].strip() for fate in comparison.lines if comparison.is_out_of_sight(fate)
    }
    assert told == {*UNSEEN.split("\n\n")[:-1], QUAY.split("\n\n")[1]}


def test_equal_lines_keep_their_order_around_what_changed() -> None:
    old = "Same.\n\n" * 30
    lines = ["Same."] * 28
    lines.insert(14, "Something else entirely happens here.")
    comparison = compare(old, "\n\n".join(lines) + "\n")

    targets = [line.new[0] for line in comparison.lines if line.new]
    assert len(targets) == 28
    assert targets == sorted(set(targets))


def test_text_and_parsed_scripts_compare_alike() -> None:
    comparison = compare(FERRY, FERRY.replace("CLERK", "GUARD"))

    again = compare(comparison.old, comparison.new)
    assert (again.lines, again.added, again.scenes) == (comparison.lines, comparison.added, comparison.scenes)


TWO_ROOMS = "INT. BOATHOUSE - NIGHT\n\nNELL mends a net.\n\n{}\n\n{}\n\nEXT. WALL - DUSK\n\nNell counts the masts.\n"


def test_a_scene_in_the_place_of_another_with_nothing_in_common_is_a_new_scene() -> None:
    old = TWO_ROOMS.format("INT. KITCHEN - DAY", "A kettle screams and nobody comes.")
    new = TWO_ROOMS.format("INT. CHANDLERY - DAY", "Tobias buys rope on credit.")
    comparison = compare(old, new)
    assert [(scene.old, scene.new, scene.fate) for scene in comparison.scenes if 2 in (scene.old, scene.new)] == [
        (2, None, "cut"),
        (None, 2, "added"),
    ]
    assert [line.fate for line in comparison.lines if line.old in (5, 7)] == ["gone", "gone"]


def test_a_scene_under_another_heading_with_its_lines_kept_is_renamed() -> None:
    body = "A kettle screams and nobody comes."
    old = TWO_ROOMS.format("INT. KITCHEN - DAY", body)
    new = TWO_ROOMS.format("INT. CHANDLERY - DAY", body)
    assert (2, 2, "renamed") in [(scene.old, scene.new, scene.fate) for scene in compare(old, new).scenes]


def test_a_scene_written_anew_in_the_same_place_at_another_hour_is_the_same_scene() -> None:
    old = TWO_ROOMS.format("INT. KITCHEN - DAY", "A kettle screams and nobody comes.")
    new = TWO_ROOMS.format("INT. KITCHEN - NIGHT", "Tobias buys rope on credit.")
    assert (2, 2) in [(scene.old, scene.new) for scene in compare(old, new).scenes]
