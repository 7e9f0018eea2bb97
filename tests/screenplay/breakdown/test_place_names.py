"""Places that headings name in several ways, as a writer says which are one (common practice: headings name a place
after what it is within, with a dash between)."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from screenplay import lay_out, parse
from screenplay.breakdown import (
    PlaceNames,
    SceneNeeds,
    alike_places,
    break_down,
    by_place,
    every_place,
    moves_of,
    propose_order,
)
from screenplay.names import SameName

HALL = PlaceNames((("BRACKWATER - VILLAGE HALL", "VILLAGE HALL"),))
HEADINGS = (
    "INT. VILLAGE HALL - DAY",
    "EXT. BRACKWATER - QUAY - DAY",
    "INT. Brackwater – Village Hall - NIGHT",
    "INT. BRACKWATER - VILLAGE HALL - STAGE - NIGHT",
)


def scenes_of(*headings: str, names: PlaceNames = HALL) -> tuple[SceneNeeds, ...]:
    return break_down(lay_out(parse("\n\n".join(f"{heading}\n\nRain." for heading in headings))), names)


def rooms_of(*headings: str, names: PlaceNames = HALL) -> list[tuple[str, str]]:
    return [place[:2] for scene in scenes_of(*headings, names=names) for place in scene.rooms]


def test_a_place_said_to_be_another_is_that_one_with_all_within_it_and_no_other_is() -> None:
    assert rooms_of(*HEADINGS) == [
        ("VILLAGE HALL", ""),
        ("BRACKWATER", "QUAY"),
        ("VILLAGE HALL", ""),
        ("VILLAGE HALL", "STAGE"),
    ]


def test_scenes_are_together_and_no_move_is_between_them_at_places_that_are_one() -> None:
    scenes, apart = scenes_of(*HEADINGS), scenes_of(*HEADINGS, names=PlaceNames())
    assert {group.name: group.scenes for group in by_place(scenes)} == {"VILLAGE HALL": (1, 3, 4), "BRACKWATER": (2,)}
    assert {group.name: group.scenes for group in by_place(apart)} == {"VILLAGE HALL": (1,), "BRACKWATER": (2, 3, 4)}
    assert propose_order(scenes).scenes == (1, 3, 4, 2)
    assert (moves_of(scenes).places, moves_of(apart).places) == (2, 1)


def test_headings_stay_as_they_are_written_and_it_is_there_when_they_say() -> None:
    (scene,) = scenes_of(HEADINGS[2])
    assert (scene.heading, scene.place_typed) == (HEADINGS[2], "Brackwater – Village Hall")
    assert (scene.place, scene.light) == ("VILLAGE HALL", "night")


def test_each_place_of_a_heading_with_several_goes_by_its_own_name() -> None:
    assert rooms_of("INT. CAR / EXT. BRACKWATER - VILLAGE HALL - DAY") == [("CAR", ""), ("VILLAGE HALL", "")]


def test_a_heading_without_a_place_has_none_still() -> None:
    assert rooms_of("INT. - DAY") == [("", "")]


def test_a_parenthesis_is_within_its_place_whatever_dash_is_in_it() -> None:
    names = PlaceNames().with_one("CANAL", "RIVER")
    assert rooms_of("EXT. CANAL (FLASHBACK - 1974) - DAY", names=names) == [("RIVER", "(FLASHBACK - 1974)")]


def test_the_most_that_is_said_of_a_place_holds() -> None:
    names = HALL.with_one("BRACKWATER", "THE TOWN")
    assert names.name_of("BRACKWATER - VILLAGE HALL - STAGE") == "VILLAGE HALL - STAGE"
    assert names.name_of("BRACKWATER - QUAY") == "THE TOWN - QUAY"
    assert names.name_of("STATION") == "STATION"


def test_what_was_merged_into_a_place_comes_along_to_another() -> None:
    names = HALL.with_one("VILLAGE HALL", "HALL")
    assert {names.name_of(each) for each in ("BRACKWATER - VILLAGE HALL", "VILLAGE HALL", "HALL")} == {"HALL"}
    assert names.with_one("BARN", "Village  Hall").name_of("BARN") == "HALL"


def test_a_place_can_be_the_one_that_another_has_within_it() -> None:
    names = PlaceNames().with_one("VILLAGE HALL", "BRACKWATER – VILLAGE HALL")
    assert set(rooms_of(HEADINGS[0], HEADINGS[2].upper(), names=names)) == {("BRACKWATER", "VILLAGE HALL")}


@pytest.mark.parametrize(
    ("place", "name"),
    [
        ("BRACKWATER", "BRACKWATER - VILLAGE HALL"),
        ("BRACKWATER - VILLAGE HALL", "brackwater"),
        ("VILLAGE HALL", "BRACKWATER - VILLAGE HALL"),  # which is the village hall already
        ("VILLAGE HALL", " "),
        ("", "VILLAGE HALL"),
    ],
)
def test_a_place_is_not_merged_with_itself_with_what_is_within_it_or_with_none(place: str, name: str) -> None:
    with pytest.raises(SameName):
        HALL.with_one(place, name)


def test_places_are_not_said_to_be_within_each_other_in_a_circle() -> None:
    names = PlaceNames().with_one("ATTIC", "HOUSE - ATTIC")
    with pytest.raises(SameName):
        names.with_one("HOUSE", "ATTIC - HOUSE")


def test_what_is_said_of_a_place_around_them_does_not_turn_merged_places_round() -> None:
    names = PlaceNames().with_one("BRACKWATER - HALL", "VILLAGE - HALL").with_one("VILLAGE", "BRACKWATER")
    for said in (names, names.with_one("QUAY", "PIER")):
        assert {said.name_of(each) for each in ("BRACKWATER - HALL", "VILLAGE - HALL")} == {"BRACKWATER - HALL"}


def test_what_is_said_of_a_place_within_another_holds_by_every_name_of_that_one() -> None:
    names = PlaceNames().with_one("FERRY", "BRACKWATER").with_one("FERRY - HOLD", "CELLAR")
    scenes = scenes_of("INT. FERRY - HOLD - DAY", "INT. BRACKWATER - HOLD - DAY", "INT. CELLAR - DAY", names=names)
    assert {group.name: group.scenes for group in by_place(scenes)} == {"CELLAR": (1, 2, 3)}
    assert names.with_two("FERRY - HOLD", "CELLAR").name_of("BRACKWATER - HOLD") == "BRACKWATER - HOLD"


PLACES = st.lists(st.sampled_from(["A", "B", "C"]), min_size=1, max_size=3).map(" - ".join)
DEEPER = [" - ".join(parts) for length in (1, 2, 3) for parts in product("ABC", repeat=length)]


@given(st.lists(st.tuples(PLACES, PLACES), min_size=2, max_size=5))
@example([("A - C", "B - C"), ("B", "A")])
def test_merged_places_go_by_one_name_that_goes_by_itself_whatever_else_is_merged(acts: list[tuple[str, str]]) -> None:
    names = PlaceNames()
    for other, name in acts:
        try:
            names = names.with_one(other, name)
        except SameName:
            continue
        assert names.name_of(other) == names.name_of(name)
        found = {place: names.name_of(place) for place in DEEPER}
        assert all(names.name_of(name) == name for name in found.values())
        more = names.with_one("QUAY", "PIER")
        assert {place: more.name_of(place) for place in DEEPER} == found


def test_what_is_taken_back_stands_apart_and_can_be_said_again() -> None:
    names = HALL.with_two("BRACKWATER - VILLAGE HALL", "VILLAGE HALL")
    assert names.name_of("BRACKWATER - VILLAGE HALL") == "BRACKWATER - VILLAGE HALL"
    assert names.are_apart("village hall", "Brackwater - Village Hall")
    assert names.with_one("BRACKWATER - VILLAGE HALL", "VILLAGE HALL") == HALL


def test_places_that_look_alike_are_proposed_until_something_is_said_of_them() -> None:
    headings = (*HEADINGS, "INT. HALL - DAY", "INT. BOAT HOUSE - DAY", "INT. BOATHOUSE - DAY")
    places = [place for scene in scenes_of(*headings, names=PlaceNames()) for place in scene.rooms]
    found = {frozenset(map(str.upper, (one.name, one.other))): one.why for one in alike_places(places)}
    assert found == {
        frozenset({"BRACKWATER - VILLAGE HALL", "VILLAGE HALL"}): "one name within the other",
        frozenset({"VILLAGE HALL", "HALL"}): "one name within the other",
        frozenset({"BOAT HOUSE", "BOATHOUSE"}): "the same letters",
    }
    said = HALL.with_two("HALL", "VILLAGE HALL").with_one("BOAT HOUSE", "BOATHOUSE")
    assert alike_places(places, said) == ()


def test_places_look_alike_by_the_names_they_go_by_and_are_kept_apart_by_each() -> None:
    headings = ("INT. FERRY - HOLD - DAY", "INT. BRACKWATER - HOLD - DAY", "INT. HOLD - DAY")
    places = [place for scene in scenes_of(*headings, names=PlaceNames()) for place in scene.rooms]
    names = PlaceNames().with_one("FERRY", "BRACKWATER")
    assert [{one.name, one.other} for one in alike_places(places, names)] == [{"BRACKWATER - HOLD", "HOLD"}]
    assert alike_places(places, names.with_two("FERRY - HOLD", "HOLD")) == ()
    assert alike_places(places, PlaceNames().with_two("FERRY - HOLD", "HOLD").with_one("FERRY", "BRACKWATER")) == ()


def test_a_place_too_long_to_be_said_anything_of_is_not_proposed() -> None:
    long = " ".join(["BOAT"] * 30)
    places = [place for scene in scenes_of(f"INT. {long} - DAY", "INT. BOAT - DAY") for place in scene.rooms]
    assert alike_places(places) == ()


def test_every_place_is_named_once_with_what_it_is_within() -> None:
    places = [place for scene in scenes_of(*HEADINGS[1:], "INT. - DAY", names=PlaceNames()) for place in scene.rooms]
    assert [place.upper() for place in every_place(places)] == [
        "BRACKWATER",
        "BRACKWATER - QUAY",
        "BRACKWATER - VILLAGE HALL",
        "BRACKWATER - VILLAGE HALL - STAGE",
    ]
