"""Who falls, jumps and climbs, and what only falls. The words, and how they count, are this project's own choice."""

from __future__ import annotations

import pytest

import screenplay
from screenplay.breakdown import cautions_of
from tests.screenplay.breakdown.caution_finds import ROOM, found


@pytest.mark.parametrize(
    "action",
    [
        "She falls.",
        "NELL falls.",
        "The boy slips and falls.",
        "She slips, falls.",
        "She slips. Falls.",
        "Then Sister Agnes falls.",
        "The baker falls.",
        "The stuntman drops from the crane.",
        "A boy on the quay falls.",
        "Two roofers fall.",
        "He turns as she slips and falls.",
        "Falling, she grabs the gutter.",
        "The verger falls from the ladder.",
        "A croupier falls off the balcony.",
        "The old organist slips, falls.",
        "Our understudy falls down the stairs.",
        "The VERGER falls.",
        "The ghillie nods. The ghillie falls.",
        "One of the roadies on the truss falls.",
        "Two of the dancers fall.",
        "A verger falls from the tower.",
        "The roofer slips on the ridge.",
        "A flagger slips, falls down the stairs.",
        "A flagger faints. The flagger falls.",
        "The bassoonist falls.",
    ],
)
def test_a_fall_counts_where_somebody_falls(action: str) -> None:
    assert "heights" in found(action)


@pytest.mark.parametrize(
    "action",
    [
        "Night falls.",
        "She falls silent.",
        "The prices fall.",
        "Dusk falls, then silence falls.",
        "Something falls.",
        "His chest rises and falls.",
        "Hope rises and falls.",
        "This year Easter falls on a Sunday.",
        "His voice falls.",
        "Laughter falls.",
        "Music swells and falls.",
        "Smoke rises, falls.",
        "Ivy falls over the arch.",
        "She looks up as the lamp wobbles and falls.",
        "She sees the vase tip and fall.",
        "The light on Ada falls.",
        "A coin falls into the well.",
        "A shadow falls across the stairs.",
        "The ball falls down the steps.",
        "He falls behind on the stairs.",
        "Dust falls from the rafters.",
        "RAIN falls.",
        "The LAMP falls.",
        "The shutter falls from the tower.",
        "The newspaper falls down the stairs.",
        "A gargoyle falls from the roof.",
        "The Tanner falls back on her cable.",
        "The last of the light falls.",
    ],
)
def test_a_fall_of_nobody_is_none(action: str) -> None:
    assert "heights" not in found(action)


HOUSEHOLD = """
    blotter buzzer cleaver coaster colander controller cooler corkscrew-opener crumb-catcher defibrillator detector
    dispenser dresser duster eraser feeder fermenter flyer grater grinder hanger humidifier inhaler juicer laser lighter
    loader marker monitor opener ottoman pacifier peeler percolator pitcher player plunger poker projector protractor
    reader recliner respirator retainer rocker router runner scraper server shaker sharpener shredder silencer slider
    specimen speaker spinner sprayer squeezer stapler strainer stroller talisman timer toaster trainer transistor
    trimmer tumbler viewer visor walker warmer wiper
"""


def test_no_thing_of_a_household_falls_as_somebody_does_for_the_ending_of_its_name() -> None:
    falls = ("The {0} falls.", "The {0} falls off the table.", "Two {0}s fall off the desk by the stairs.")
    things = [thing for thing in HOUSEHOLD.split() if "heights" in found(" ".join(falls).format(thing), ROOM)]
    assert things == []


def test_what_is_said_of_things_too_makes_nobody_of_them() -> None:
    done = "The sign says CLOSED. The kettle whispers. The wind sighs. The radio talks. The letter asks. A lamp blinks."
    fallen = "The sign falls. The kettle falls. The wind falls. The radio falls. The letter falls. The lamp falls."
    assert "heights" not in found(f"{done} {fallen}", ROOM)
    assert "heights" in found("The flagger shrugs. The flagger falls.", ROOM)


def test_somebody_who_is_named_falls_too() -> None:
    text = "EXT. FIELD - DAY\n\nNell falls.\n\nNELL\nOh.\n\nEXT. FIELD - DAY\n\nThe Nell falls back on her cable.\n"
    assert [{find.key for find in finds} for finds in cautions_of(screenplay.parse(text))[1:]] == [{"heights"}, set()]


def test_a_jump_counts_in_a_scene_with_a_height_or_a_quay() -> None:
    """What a stunt coordinator would want to be asked; a jump by itself may be a start at a noise."""
    assert found("He jumps.") == {}
    assert found("He jumps.", "EXT. BRIDGE - DAY") == {"heights": ["bridge", "jumps"]}
    assert "heights" in found("She is on the quay. Boats. She jumps.")
    assert found("A hiker loses her balance.") == {}
    assert found("A hiker loses her balance.", "EXT. GORGE - DAY") == {"heights": ["gorge", "loses her balance"]}
    assert found("He jumps at the sound.", "EXT. BRIDGE - DAY") == {}
    assert found("He jumps.", "EXT. BRIDGE STREET - DAY") == {}
    assert found("He jumps from the bridge.") == {"heights": ["jumps … bridge"]}


@pytest.mark.parametrize(
    "action",
    [
        *("He jumps, startled.", "He jumps when the dog barks.", "He jumps to a decision.", "Priya jumps the rope."),
        *("He jumps the queue.", "He jumps a claim.", "He jumps the gun.", "He jumps at the chance.", "He jumps bail."),
        *("She jumps up and down.", "She jumps to conclusions.", "The girls jump over the rope."),
    ],
)
def test_a_start_and_a_way_of_speaking_are_no_jump(action: str) -> None:
    assert not {"heights", "weapons"} & found(action, "EXT. PIER - DAY").keys()
    assert "heights" in found("He jumps.", "EXT. PIER - DAY")


@pytest.mark.parametrize(
    "action",
    [
        *("Priya jumps the fence.", "She jumps the wall.", "He jumps the gap.", "He jumps the turnstile."),
        *("She jumps off the pier.", "He vaults the barrier.", "She hurdles the hedge."),
    ],
)
def test_a_jump_over_an_obstacle_or_off_a_height_is_one(action: str) -> None:
    """What a stunt coordinator would want to be asked (common practice)."""
    assert "heights" in found(action)


@pytest.mark.parametrize(
    "action",
    [
        "McCabe climbs the bell tower with a rope.",
        "A boy of six climbs the flagpole.",
        "A boy aged six scales the mast.",
    ],
)
def test_who_climbs_a_tower_or_a_pole_is_at_a_height(action: str) -> None:
    assert "heights" in found(action)
