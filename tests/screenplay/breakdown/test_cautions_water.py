"""Water, weather, and what is on them or under. The words, and how they count, are this project's own choice."""

from __future__ import annotations

import pytest

import screenplay
from screenplay.breakdown import cautions_of
from tests.screenplay.breakdown.caution_finds import ROOM, found


@pytest.mark.parametrize(
    ("place", "is_water"),
    [
        ("FERRY", True),
        ("FERRY - DECK", True),
        ("RIVER TESK", True),
        ("BENCH BY THE CANAL", True),
        ("FERRY HOUSE - KITCHEN", False),
        ("RIVER STREET", False),
        ("LAKE ARMS", False),
    ],
)
def test_a_place_counts_where_it_is_that_and_not_where_it_is_named_after_it(place: str, is_water: bool) -> None:
    assert ("water" in found("Nobody.", f"EXT. {place} - DAY")) == is_water


@pytest.mark.parametrize(
    ("heading", "is_water"),
    [
        (".UNDER THE GUDRUN", True),
        ("EXT. BENEATH THE GUDRUN - DAY", True),
        ("EXT. THE GUDRUN - CABIN ROOF - DAY", False),
        (".UNDER THE STAIRS", False),
        ("INT. UNDER THE GUDRUN - DAY", False),
    ],
)
def test_what_is_under_a_place_on_water_is_in_it(heading: str, is_water: bool) -> None:
    text = f"EXT. THE GUDRUN - ON THE RIVER - DAY\n\nRain.\n\n{heading}\n\nGreen. Then black.\n"
    assert ("water" in {find.key for find in cautions_of(screenplay.parse(text))[2]}) == is_water


def test_water_by_itself_is_a_find_outdoors_and_a_view_indoors() -> None:
    assert "water" in found("The water is black, and close.")
    assert found("Beyond the window, the river. A glass of water. The kitchen sink.", ROOM) == {}
    assert "water" in found("She wades in to the waist.", ROOM)


def test_rain_into_a_river_is_water_and_no_height() -> None:
    assert list(found("Leaves fall into the river.")) == ["water"]
    assert list(found("She falls into the river.")) == ["heights", "water"]


def test_rain_on_open_electrics_is_a_caution_of_electricity_and_water_and_weather() -> None:
    both = {"electricity": ["switch"], "water": ["rain"]}
    assert found("Rain. A grey box, its cover off, one large switch.") == {**both, "weather": ["rain"]}
    assert found("Rain on the window. He throws the switch.", ROOM) == {}
    assert found("Rain.") == {"weather": ["rain"]}
    assert found("Rain.", ROOM) == {}
    assert found("He throws the switch.") == {}


def test_a_ferry_under_way_is_water_and_no_vehicle() -> None:
    assert list(found("The ferry comes in, rocking.")) == ["water"]


@pytest.mark.parametrize(
    "action",
    [
        "She surfaces on the far side, grinning.",
        "He is dragged under.",
        "The current pulls her under.",
        "It sucks him under the hull.",
        "She kicks for the surface.",
        "He bursts up gasping.",
        "She claws up to the surface.",
        "She kicks up to the surface.",
        "She fights up towards the surface.",
        "He comes up choking on a mouthful of sea.",
        "She is swept under by the current.",
    ],
)
def test_who_is_under_water_is_a_caution_where_no_word_says_water(action: str) -> None:
    assert "water" in found(action, ROOM)


@pytest.mark.parametrize(
    "action",
    [
        "McCabe at a desk, drowning in paper.",
        "She drags him under the table.",
        "He is pulled under the car.",
        "A memory surfaces.",
        "She surfaces from sleep.",
        "She surfaces behind him in the crowd.",
        "She dives into her handbag and surfaces with a pen.",
        "Dust on the surfaces.",
        "The teacher comes up choking with laughter.",
        "He comes up choking on his tea.",
        "She is swept under by the noise of the crowd.",
        "She is sucked under the van.",
    ],
)
def test_who_is_under_something_else_is_in_no_water(action: str) -> None:
    assert "water" not in found(action, ROOM)
