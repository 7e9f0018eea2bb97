"""Where a scene is, and when it is there, by an INTERCUT in its heading (common practice: both ends of a call are
shot, each where and when it is)."""

from __future__ import annotations

import pytest

from screenplay import lay_out, parse
from screenplay.breakdown import SceneNeeds, break_down, by_light, lights, story_days
from screenplay.breakdown.scene_places import scene_places

ENDS = "INT. KITCHEN - DAY\n\nAda.\n\nEXT. STREET - NIGHT\n\nMilo.\n\n"


def third(heading: str) -> SceneNeeds:
    """The scene of a heading, after a kitchen by day and a street by night."""
    return break_down(lay_out(parse(f"{ENDS}{heading}\n\nRain.\n")))[2]


@pytest.mark.parametrize(
    "heading",
    [
        ".INTERCUT - INT. KITCHEN / EXT. STREET - NIGHT",
        ".INTERCUT - KITCHEN / STREET - NIGHT",
        "INT. KITCHEN / EXT. STREET - INTERCUT - NIGHT",
        ".INTERCUT: INT. KITCHEN, EXT. STREET (NIGHT)",
        ".INTERCUT BETWEEN INT. KITCHEN AND EXT. STREET - NIGHT",
    ],
)
def test_the_light_behind_the_places_of_an_intercut_is_that_of_each(heading: str) -> None:
    scene = third(heading)
    assert [tuple(place) for place in scene.places] == [("KITCHEN", "", "night", None), ("STREET", "", "night", None)]
    assert (scene.light, scene.light_from, scene.lights) == ("night", None, ("night",))


@pytest.mark.parametrize(
    "heading",
    [
        ".INTERCUT - INT. KITCHEN / EXT. STREET",
        ".INTERCUT KITCHEN / STREET",
        ".INTERCUT - KITCHEN / STREET - SAME",
        "INT. KITCHEN / EXT. STREET - INTERCUT",
        ".INTERCUT - KITCHEN - DAY / STREET - NIGHT",
    ],
)
def test_where_it_says_none_it_is_when_it_is_in_the_scenes_of_its_ends(heading: str) -> None:
    scene = third(heading)
    assert [tuple(place) for place in scene.places] == [("KITCHEN", "", "day", 1), ("STREET", "", "night", 2)]
    assert (scene.light, scene.light_from, scene.lights) == ("day", 1, ("day", "night"))


HOUSE = "INT. FERRY HOUSE - KITCHEN - DAY\n\nAda.\n\nINT. FERRY HOUSE - HALL - DAY\n\nAda.\n\n"
OTHERS = "INT. HARBOUR OFFICE - DAY\n\nMilo.\n\nINT. BAKERY - DAY\n\nMilo.\n\n"


def places_of(heading: str) -> list[tuple[str, str]]:
    """Where a scene is by its heading, after a house with two rooms, an office and a bakery."""
    scene = break_down(lay_out(parse(f"{HOUSE}{OTHERS}{heading}\n\nRain.\n")))[-1]
    return [(place.name, place.within) for place in scene.places]


@pytest.mark.parametrize(
    ("heading", "places"),
    [
        ("INT. FERRY HOUSE - KITCHEN / HARBOUR OFFICE - DAY", [("FERRY HOUSE", "KITCHEN"), ("HARBOUR OFFICE", "")]),
        ("INT. FERRY HOUSE - KITCHEN / MILL - INTERCUT", [("FERRY HOUSE", "KITCHEN"), ("MILL", "")]),
        ("INT. KITCHEN/HARBOUR OFFICE - DAY", [("FERRY HOUSE", "KITCHEN"), ("HARBOUR OFFICE", "")]),
        ("INT. BAKERY/HARBOUR OFFICE - DAY", [("BAKERY", ""), ("HARBOUR OFFICE", "")]),
        ("INT. BAKERY/MILL - DAY - INTERCUT", [("BAKERY", ""), ("MILL", "")]),
        ("INT. MILL / BARN - DAY", [("MILL", ""), ("BARN", "")]),
        ("INT. MILL - LOFT / BARN - STALL - NIGHT", [("MILL", "LOFT"), ("BARN", "STALL")]),
    ],
)
def test_a_scene_is_at_both_places_of_one_setting(heading: str, places: list[tuple[str, str]]) -> None:
    """Common practice: both are found and dressed, whatever the heading has between them."""
    assert places_of(heading) == places


@pytest.mark.parametrize(
    ("heading", "place"),
    [
        ("INT./EXT. CAR - DAY", ("CAR", "")),
        ("INT. 24/7 SHOP - DAY", ("24/7 SHOP", "")),
        ("INT. HOUSE/GARDEN - DAY", ("HOUSE/GARDEN", "")),
        ("INT. FERRY HOUSE - KITCHEN / HALL - DAY", ("FERRY HOUSE", "KITCHEN / HALL")),
        ("INT. FERRY HOUSE - KITCHEN / PANTRY - DAY", ("FERRY HOUSE", "KITCHEN / PANTRY")),
        ("INT. VAN / MOVING - DAY", ("VAN / MOVING", "")),
        ("INT. ROOM 12 / 14 - DAY", ("ROOM 12 / 14", "")),
        ("INT. KITCHEN (UP / DOWN) - DAY", ("KITCHEN", "(UP / DOWN)")),
    ],
)
def test_what_may_be_one_place_stays_one(heading: str, place: tuple[str, str]) -> None:
    assert places_of(heading) == [place]


@pytest.mark.parametrize(
    "place",
    [
        *("LIVING / DINING ROOM", "UPPER / LOWER DECK", "FRONT / BACK GARDEN", "SMALL / LARGE MEETING ROOM"),
        *("MALE / FEMALE WARD", "FIRST / SECOND FLOOR", "NORTH / SOUTH PLATFORM", "CONTROL / ENGINE ROOM"),
        *("MEETING / BREAK ROOM", "MUM / DAD'S ROOM", "NORTH / SOUTH / EAST PLATFORM"),
    ],
)
def test_places_that_may_share_one_noun_stay_one_where_no_heading_has_the_first(place: str) -> None:
    assert places_of(f"INT. {place} - DAY") == [(place, "")]


def test_a_place_or_a_room_that_another_heading_has_shares_no_noun_with_the_next() -> None:
    assert places_of("INT. BAKERY / HARBOUR OFFICE - DAY") == [("BAKERY", ""), ("HARBOUR OFFICE", "")]
    assert places_of("INT. KITCHEN / HARBOUR OFFICE - DAY") == [("FERRY HOUSE", "KITCHEN"), ("HARBOUR OFFICE", "")]
    assert places_of("INT. MILL / OLD BARN - DAY - INTERCUT") == [("MILL", ""), ("OLD BARN", "")]


@pytest.mark.parametrize(
    ("heading", "rooms"),
    [
        ("INT. KITCHEN / ATTIC - DAY", ["KITCHEN", "ATTIC"]),
        ("INT. ATTIC / KITCHEN - DAY", ["ATTIC", "KITCHEN"]),
        ("INT. KITCHEN / BOX ROOM - DAY", ["KITCHEN", "BOX ROOM"]),
        ("INT. KITCHEN / HALL - DAY", ["KITCHEN", "HALL"]),
        ("INT. HALL - DAY\n\nRain.\n\nINT. KITCHEN / HALL - DAY", ["KITCHEN", "HALL"]),
        ("INT. HALL - DAY\n\nRain.\n\nINT. HALL / KITCHEN - DAY", ["HALL", "KITCHEN"]),
    ],
)
def test_rooms_beside_a_room_of_one_house_are_of_that_house(heading: str, rooms: list[str]) -> None:
    there = scene_places(parse(f"{HOUSE}{OTHERS}{heading}\n\nRain.\n"))[-1]
    assert [(place.name, place.within) for place in there] == [("FERRY HOUSE", room) for room in rooms]


def test_a_room_lends_its_house_to_no_other_place() -> None:
    assert places_of("INT. KITCHEN / BAKERY - DAY") == [("FERRY HOUSE", "KITCHEN"), ("BAKERY", "")]
    assert places_of("INT. KITCHEN / MILL - DAY - INTERCUT") == [("FERRY HOUSE", "KITCHEN"), ("MILL", "")]
    assert places_of("INT./EXT. KITCHEN / STREET - DAY") == [("FERRY HOUSE", "KITCHEN"), ("STREET", "")]
    assert places_of("INT. KITCHEN/DINER - DAY") == [("KITCHEN/DINER", "")]
    assert places_of("INT. FERRY HOUSE / KITCHEN - DAY") == [("FERRY HOUSE / KITCHEN", "")]


def test_an_intercut_of_two_places_in_one_heading_is_with_no_scene_that_is_not_said() -> None:
    call = "INT. FERRY HOUSE - KITCHEN / HARBOUR OFFICE - DAY - INTERCUT"
    scenes = break_down(lay_out(parse(f"{HOUSE}{OTHERS}{call}\n\nRain.\n")))
    assert [scene.intercuts for scene in scenes] == [(), (), (), (), ()]
    linked = "INT. FERRY HOUSE - KITCHEN / HARBOUR OFFICE - DAY - INTERCUT WITH BAKERY"
    scene = break_down(lay_out(parse(f"{HOUSE}{OTHERS}{linked}\n\nRain.\n")))[-1]
    assert [one.scenes for one in scene.intercuts] == [(4,)]


def test_a_place_with_a_light_of_its_own_keeps_it() -> None:
    scene = third("INT. KITCHEN - DUSK / INT. CAR - DAWN")
    assert [(place.name, place.light) for place in scene.places] == [("KITCHEN", "dusk"), ("CAR", "dawn")]
    assert third("INT. CAR - INTERCUT WITH STREET").lights == ("",)


def test_places_that_no_other_scene_has_are_those_of_the_heading() -> None:
    (scene,) = break_down(lay_out(parse(".INTERCUT - INT. BARN / EXT. LANE - NIGHT\n\nRain.\n")))
    assert [(place.name, place.light) for place in scene.places] == [("BARN", "night"), ("LANE", "night")]


def test_a_scene_by_day_and_night_is_in_both_groups_and_begins_no_day() -> None:
    text = (
        f"{ENDS}.INTERCUT - KITCHEN / STREET\n\nRain.\n\nINT. BARN - CONTINUOUS\n\nRain.\n\nINT. BARN - DAY\n\nSun.\n"
    )
    scenes = break_down(lay_out(parse(text)))
    assert {group.name: group.scenes for group in by_light(scenes)} == {"day": (1, 3, 4, 5), "night": (2, 3)}
    assert story_days(scenes) == (1, 1, 1, 1, 2)
    assert lights(parse(text)) == ("day", "night", "day", "day", "day")


def test_work_near_a_road_is_by_night_where_one_end_is() -> None:
    road = "A car passes close to the crew on the road.\n"
    keys = {find.key for find in third(f".INTERCUT - KITCHEN / STREET\n\n{road}").cautions}
    assert "night_roads" in keys
    assert "night_roads" not in {find.key for find in third(f".INTERCUT - KITCHEN / STREET - DAY\n\n{road}").cautions}
