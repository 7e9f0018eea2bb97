"""Which scenes an INTERCUT line cuts together. Its forms are common practice; the trade has no single one."""

from __future__ import annotations

import pytest

from screenplay import lay_out, parse
from screenplay.breakdown import break_down
from screenplay.page import PageSetting, SceneNumber

KITCHEN = "INT. MARA'S KITCHEN - DAY\n\nMara, the phone in her hand.\n\n"
OFFICE = "INT. OFFICE - DAY\n\nJon.\n\n"
YARD = "EXT. YARD - DAY\n\nRain.\n\n"
CALL = "JON\nHello?\n\nMARA\nHello.\n\n"


def together(text: str) -> dict[int, list[tuple[int, ...]]]:
    """With which scenes each scene is cut together that is with any, () where nothing says which."""
    scenes = break_down(lay_out(parse(text)))
    return {scene.ordinal: [one.scenes for one in scene.intercuts] for scene in scenes if scene.intercuts}


@pytest.mark.parametrize(
    "line", ["INTERCUT WITH:", "> INTERCUT TO:", "INTERCUT WITH JON", "INTERCUT:", "Intercut with:"]
)
def test_a_line_that_ends_a_scene_leads_into_the_next(line: str) -> None:
    assert together(f"{YARD}{KITCHEN}{line}\n\n{OFFICE}{CALL}{YARD}") == {2: [(3,)], 3: [(2,)]}


@pytest.mark.parametrize(
    "line",
    [
        "INTERCUT WITH THE OFFICE",
        "INTERCUT - MARA’S KITCHEN / OFFICE",
        "INTERCUT BETWEEN MARA'S KITCHEN AND THE OFFICE:",
        "PHONE CALL - INTERCUT OFFICE/MARA'S KITCHEN",
        "Intercut with Jon in the office. Then the yard.",
    ],
)
def test_a_line_that_names_places_means_the_scenes_nearest_to_it(line: str) -> None:
    assert together(f"{OFFICE}{YARD}{OFFICE}{KITCHEN}{line}\n\n{CALL}{YARD}") == {3: [(4,)], 4: [(3,)]}


def test_of_two_scenes_as_near_it_means_the_one_that_it_leads_into() -> None:
    assert together(f"{OFFICE}{KITCHEN}INTERCUT WITH OFFICE:\n\n{OFFICE}{CALL}") == {2: [(3,)], 3: [(2,)]}


def test_a_line_before_two_headings_is_between_these() -> None:
    assert together(f"{YARD}INTERCUT BETWEEN:\n\n{KITCHEN}{OFFICE}{CALL}") == {2: [(3,)], 3: [(2,)]}


def test_a_room_is_a_place_where_no_other_place_has_one_of_that_name() -> None:
    house = "INT. HOUSE - LOFT - DAY\n\nMara.\n\n"
    assert together(f"{house}{OFFICE}INTERCUT WITH THE LOFT\n\n{CALL}") == {1: [(2,)], 2: [(1,)]}
    flat = "INT. FLAT - LOFT - DAY\n\nJon.\n\n"
    assert together(f"{house}{flat}{OFFICE}INTERCUT WITH THE LOFT\n\n{CALL}") == {3: [()]}


@pytest.mark.parametrize(
    ("line", "named"),
    [("INTERCUT PHONE CALL", ()), ("INTERCUT AS NEEDED.", ()), ("INTERCUT BETWEEN MARA AND JON", ("JON", "MARA"))],
)
def test_a_line_that_names_no_place_says_no_scene(line: str, named: tuple[str, ...]) -> None:
    scenes = break_down(lay_out(parse(f"{KITCHEN}{OFFICE}{line}\n\n{CALL}{YARD}")))
    assert [[(one.scenes, one.named, one.line) for one in scene.intercuts] for scene in scenes] == [
        [],
        [((), named, 9)],
        [],
    ]


def test_a_heading_says_it_too() -> None:
    text = f"{KITCHEN}INT. OFFICE - INTERCUT WITH MARA'S KITCHEN - DAY\n\n{CALL}"
    assert together(text) == {1: [(2,)], 2: [(1,)]}
    both = ".INTERCUT - MARA'S KITCHEN / OFFICE - DAY\n\n"
    assert together(f"{KITCHEN}{OFFICE}{both}{CALL}") == {1: [(2, 3)], 2: [(1, 3)], 3: [(1, 2)]}
    assert together(f"{KITCHEN}INT. OFFICE - DAY - INTERCUT\n\n{CALL}") == {2: [()]}
    assert break_down(lay_out(parse(text)))[1].place_within == ""


def test_a_heading_that_says_it_and_no_setting_is_at_the_places_it_cuts_together() -> None:
    text = f"{KITCHEN}{OFFICE}.INTERCUT - MARA'S KITCHEN / OFFICE - DAY\n\n{CALL}"
    assert [place.name for place in break_down(lay_out(parse(text)))[2].places] == ["MARA'S KITCHEN", "OFFICE"]
    nowhere = f"{KITCHEN}.INTERCUT - THE CALL\n\n{CALL}"
    assert [place.name for place in break_down(lay_out(parse(nowhere)))[1].places] == [""]


@pytest.mark.parametrize(
    "line", ["END INTERCUT", "END OF INTERCUT.", "INTERCUT ENDS", "The intercut footage runs.", "He likes an intercut."]
)
def test_the_end_of_one_and_a_word_in_a_sentence_are_none(line: str) -> None:
    assert together(f"{KITCHEN}{line}\n\n{OFFICE}") == {}


@pytest.mark.parametrize(
    "line",
    ["NO MORE INTERCUTTING.", "Intercutting is her job.", "Intercutting is Mara's job.", "Intercut shots of the sea."],
)
def test_nor_is_a_sentence_about_something_else(line: str) -> None:
    assert together(f"{KITCHEN}{CALL}{line}\n\n{OFFICE}{CALL}") == {}


@pytest.mark.parametrize(
    "line", ["Intercut the two:", "Intercut Mara's kitchen and the office.", "Intercut the office."]
)
def test_a_sentence_may_be_about_the_cut(line: str) -> None:
    assert together(f"{KITCHEN}{line}\n\n{OFFICE}") == {1: [(2,)], 2: [(1,)]}


ADA, MILO = "INT. KITCHEN - NIGHT\n\nADA\nHello?\n\n", "EXT. CAUSEWAY - NIGHT\n\nMILO\nHello.\n\n"
ROSA = "INT. GARAGE - DAY\n\nROSA\nSo.\n\n"


@pytest.mark.parametrize("line", ["INTERCUT ADA / MILO", "INTERCUT WITH MILO", "Intercut Ada and Milo."])
def test_a_line_that_names_people_means_the_nearest_scene_of_those_who_are_elsewhere(line: str) -> None:
    met = "INT. KITCHEN - NIGHT\n\nAda, the phone in her hand.\n\n"
    for here in (ADA, met):
        assert together(f"{ADA}{MILO}{here}{line}\n\n{ROSA}") == {2: [(3,)], 3: [(2,)]}
        assert together(f"{MILO}{here}{line}\n\n{MILO}{ROSA}{ADA}") == {2: [(3,)], 3: [(2,)]}
        named = "EXT. CAUSEWAY - NIGHT\n\nMilo waits.\n\n"
        assert together(f"{MILO}{here}{line}\n\n{named}{ROSA}{ADA}") == {2: [(3,)], 3: [(2,)]}


def test_of_people_who_are_nowhere_else_the_names_are_told() -> None:
    voice = "MILO (V.O.)\nHello.\n\n"
    scenes = break_down(lay_out(parse(f"{ADA}{voice}INTERCUT WITH MILO\n\n{ROSA}")))
    assert [[(one.scenes, one.named) for one in scene.intercuts] for scene in scenes] == [[((), ("MILO",))], []]


@pytest.mark.parametrize(
    "heading",
    ["INT. KITCHEN / EXT. CAUSEWAY - INTERCUT - NIGHT", ".INTERCUT - INT. KITCHEN / EXT. CAUSEWAY - NIGHT"],
)
def test_a_heading_of_several_settings_means_the_scenes_nearest_to_it(heading: str) -> None:
    assert together(f"{ADA}{MILO}{heading}\n\nRain.\n\n{ROSA}") == {1: [(2, 3)], 2: [(1, 3)], 3: [(1, 2)]}
    assert together(f"{heading}\n\nRain.\n\n{ROSA}") == {}


def test_what_somebody_owns_is_not_where_they_are() -> None:
    line = "INTERCUT WITH MILO'S FLAT"
    assert together(f"{MILO}{ADA}{line}\n\n{ROSA}") == {2: [()]}
    assert together(f"{ADA}{line}\n\n{MILO}") == {1: [(2,)], 2: [(1,)]}
    scenes = break_down(lay_out(parse(f"{ADA}{MILO}.INTERCUT - ADA'S CAR / MILO'S FLAT\n\nADA\nSo.\n")))
    assert (scenes[2].place, [one.scenes for one in scenes[2].intercuts]) == ("", [()])


@pytest.mark.parametrize("heading", [".INTERCUT - ADA AND MILO", ".INTERCUT SC. 4 AND 4A", ".INTERCUT - SCENES 4/4A"])
def test_a_heading_that_names_people_or_numbers_is_at_the_places_of_their_scenes(heading: str) -> None:
    kitchen, causeway = ADA.replace("\n", " #4#\n", 1), MILO.replace("\n", " #4A#\n", 1)
    text = f"{kitchen}{causeway}{ROSA}{heading}\n\nADA\nMilo?\n\nMILO\nAda?\n"
    assert together(text) == {1: [(2, 4)], 2: [(1, 4)], 4: [(1, 2)]}
    assert [place.name for place in break_down(lay_out(parse(text)))[3].places] == ["KITCHEN", "CAUSEWAY"]


@pytest.mark.parametrize("line", ["INTERCUT SCENES 1 AND 2", "Intercut scenes 1 and 2.", "INTERCUT SC. 1 / SC. 2"])
def test_a_line_may_name_scenes_by_number(line: str) -> None:
    kitchen, causeway = ADA.replace("\n", " #1#\n", 1), MILO.replace("\n", " #2#\n", 1)
    assert together(f"{kitchen}{ROSA}{causeway}{line}\n\n{ROSA}") == {1: [(3,)], 3: [(1,)]}
    assert together(f"{ADA}{MILO}{line}\n\n{ROSA}") == {2: [()]}


def test_places_are_in_the_order_of_the_heading() -> None:
    (*_, scene) = break_down(lay_out(parse(f"{ADA}{MILO}.INTERCUT - CAUSEWAY / KITCHEN - NIGHT\n\nRain.\n")))
    assert [place.name for place in scene.places] == ["CAUSEWAY", "KITCHEN"]


def numbered(*numbers: str) -> str:
    """Scenes of these numbers, in their order; "" for one without."""
    return "".join(
        f"INT. ROOM {at} - DAY{f' #{number}#' if number else ''}\n\nP{at}\nSo.\n\n"
        for at, number in enumerate(numbers, start=1)
    )


@pytest.mark.parametrize(
    "says",
    [
        *("SCENES 12-14", "SCENES 12 - 14", "SCENES 12–14", "SCENES 12 TO 14", "SCENES 12 THROUGH 14"),
        *("SCS. 12, 13, AND 14", "SCENES #12#-#14#", "SCENES FROM 12 TO 13 AND 14", "SCENE 12 WITH SCENES 13/14"),
    ],
)
def test_numbers_may_be_told_by_the_first_and_the_last(says: str) -> None:
    text = numbered("11", "12", "13", "", "14", "15")
    assert together(f"{text}INTERCUT {says}\n") == {2: [(3, 5)], 3: [(2, 5)], 5: [(2, 3)]}
    assert together(f"{text}.INTERCUT {says} - NIGHT\n\nRain.\n")[7] == [(2, 3, 5)]


def test_what_stands_between_two_numbers_goes_by_the_script() -> None:
    text = numbered("12", "12A", "A13", "12B", "12C", "13")
    assert together(f"{text}INTERCUT SCENES 12A-12C\n")[2] == [(3, 4, 5)]
    assert together(f"{text}INTERCUT SCENES 12C TO 12B\n") == {4: [(5,)], 5: [(4,)]}
    assert together(f"{numbered('1', '1-2', '2', '3')}INTERCUT SCENES 1-2 AND 3\n") == {2: [(4,)], 4: [(2,)]}


@pytest.mark.parametrize(
    ("says", "missing", "scenes"),
    [
        ("SCENES 12-19", ("19",), (1,)),
        ("SCENES 12, 13 AND 19", ("19",), ()),
        ("SCENES 18 TO 19", ("18", "19"), ()),
        ("SCENES 12 AND 13 AT 9 P.M.", (), ()),
        ("SCENE 12 - 9 P.M.", (), (1,)),
    ],
)
def test_a_number_that_no_scene_has_is_told(says: str, missing: tuple[str, ...], scenes: tuple[int, ...]) -> None:
    found = break_down(lay_out(parse(f"{numbered('12', '13')}INT. BARN - DAY\n\nINTERCUT {says}\n")))
    assert {one.missing for scene in found for one in scene.intercuts} == {missing}
    assert tuple(at for one in found[2].intercuts for at in one.scenes) == scenes


def test_numbers_that_are_locked_are_those_that_a_line_names() -> None:
    script = parse(f"{ADA}{MILO}{ROSA}INTERCUT SCENES 7-9\n")
    locked = PageSetting(scene_numbers=(SceneNumber("7", 1), SceneNumber("8", 2), SceneNumber("9", 3)))
    assert [one.intercuts[0].scenes for one in break_down(lay_out(script, locked))] == [(2, 3), (1, 3), (1, 2)]


def test_from_one_end_of_a_script_to_the_other_is_no_intercut_of_all() -> None:
    assert together(f"{numbered(*map(str, range(1, 60)))}INTERCUT SCENES 1-59\n") == {1: [(59,)], 59: [(1,)]}
