"""Weapons, blades, sparks, flashing light, vehicles. The words, and how they count, are this project's own choice."""

from __future__ import annotations

import pytest

from tests.screenplay.breakdown.caution_finds import DAY, NIGHT, ROOM, found


@pytest.mark.parametrize(
    ("text", "cautions"),
    [
        ("FIRST FIRING. Ash on the bowls.", {"fire"}),
        ("The kiln, after the second firing.", {"fire"}),
        ("He has been firing bowls since dawn.", {"fire"}),
        ("The engine is firing on three cylinders.", set()),
        ("She dives behind the kiln, firing.", {"fire", "weapons"}),
        ("Firing the pistol at the pots, he laughs.", {"weapons"}),
        ("The firing stops.", {"weapons"}),
        ("They come out firing.", {"weapons"}),
        ("They are firing from the windows.", {"weapons"}),
        ("Soldiers open fire from the ridge.", {"weapons"}),
        ("The first firing squad takes its place.", {"weapons"}),
        ("She holds the blade of the knife to his throat.", {"weapons"}),
        ("A pot hangs in the fire over the pit.", {"fire"}),
    ],
)
def test_a_firing_is_of_a_weapon_unless_it_says_of_what_it_is(text: str, cautions: set[str]) -> None:
    """Judged as common practice has it: the first firing is a potter's word for the one before the glaze. What may be
    a gun is taken for one."""
    assert {*found(text)} == cautions


@pytest.mark.parametrize(
    "action",
    [
        "Hanne grinds the cable smooth. Sparks.",
        "Dora grinds the scythe.",
        "Milo hammers at the bolt. Sparks.",
        "They saw through the padlock. Blue sparks on the wet stones.",
        "He is grinding down an old weld.",
        "A shower of sparks from the roof of the vault.",
        "An angle grinder bites into the door.",
        "She starts the plasma cutter.",
        "He grinds through the lock.",
        "He grinds the head off the bolt.",
        "He grinds the bar of the gate.",
        "He grinds the iron into a point.",
        "Sparks pour from the grinder.",
        "Sparks rain from the saw.",
        "He hammers on the key with a mallet, sparks fly.",
    ],
)
def test_work_that_throws_sparks_is_hot_work(action: str) -> None:
    """Common practice: grinding, welding and cutting of metal are hot work, with the precautions that go for fire."""
    assert "fire" in found(action)


@pytest.mark.parametrize(
    "action",
    [
        "She grinds the coffee beside the iron pot.",
        "He grinds his teeth against the bar.",
        "She grinds the gears and the chain jumps.",
        "The cable grinds over the drum.",
        "He grinds a cigarette out on the rail.",
        "The tractor grinds down the hill past the chain.",
        "She sharpens a pencil.",
        "She grinds the iron into the shirt.",
        "She grinds the iron over the collar.",
        "He grinds the iron tablets with a spoon.",
        "She grinds the bar of chocolate over the cake.",
        "He grinds the bar of soap.",
        "The printer grinds the last bolt of paper.",
        "He sharpens a pencil, sparks of graphite on the desk.",
        "She hammers on the door, sparks of rain on it.",
    ],
)
def test_what_is_ground_without_sparks_is_none(action: str) -> None:
    assert "fire" not in found(action)


@pytest.mark.parametrize(
    ("action", "is_strobe"),
    [
        ("A strobe. The crowd in pieces.", True),
        ("The lights strobe.", True),
        ("The tubes flicker faster.", True),
        ("The disco lights flash.", True),
        ("Police lights flash.", True),
        ("A disco ball and flashing lights.", True),
        ("The lights flash fast as they dance.", True),
        ("Lights flash rapidly by the bar.", True),
        ("The screens flicker wildly as the lights start.", True),
        ("The screen flickers fast through the channels.", False),
        ("Phone screens flash quickly past.", False),
        ("The lights flicker quickly as the tube warms up.", False),
        ("Flashing lights on the dashboard.", False),
        ("A neon sign flickers.", False),
        ("Blue lights flash on the wall.", False),
    ],
)
def test_a_strobe_is_a_caution_for_people_too(action: str, *, is_strobe: bool) -> None:
    """Common practice: whoever is sensitive to it, in the cast, the crew or the audience, is warned beforehand."""
    assert ("strobe" in found(action, ROOM)) == is_strobe


def test_roads_are_a_caution_by_night_alone() -> None:
    headings = {"night": NIGHT, "day": DAY, "": "EXT. FIELD"}
    by_time = {time: list(found("She waits by the road.", heading)) for time, heading in headings.items()}
    assert by_time == {"night": ["night_roads"], "day": [], "": []}


def test_vehicles_count_where_they_move_and_at_night_are_near_roads() -> None:
    assert found("Room for six cars, and one bicycle against a wall.") == {}
    assert found("A car races down the hill.") == {"vehicles": ["car races"]}
    assert found("A car races down the hill.", NIGHT) == {"vehicles": ["car races"], "night_roads": ["car races"]}
    assert "night_roads" in found("Two vans, racing along the front.", NIGHT)
    assert "night_roads" not in found("Two vans, she races by.", NIGHT)
    assert found("The parked cars. She goes by.", NIGHT) == {}
    assert "vehicles" in found("They do not speak.", "INT. CAR - DAY")
    assert found("Parked. They do not speak.", "INT. CAR - DAY") == {}


def test_a_blade_used_as_a_tool_is_no_weapon() -> None:
    assert found("She sets the blade of a screwdriver to the screw.", ROOM) == {}
    assert found("He slices bread with a knife.", ROOM) == {}
    assert "weapons" in found("He comes in with a knife.", ROOM)


@pytest.mark.parametrize(
    "action",
    [
        "She cuts him loose with the fish knife.",
        "A figure in oilskins saws at the cable with a fish knife.",
        "He hacks at the rope with a machete.",
    ],
)
def test_a_blade_that_cuts_somebody_loose_or_is_sawn_with_is_a_weapon(action: str) -> None:
    """Common practice: whoever has the props asks for a blunted blade where one is used close to somebody."""
    assert "weapons" in found(action)


@pytest.mark.parametrize(
    "action",
    [
        "He slices the fish with a knife.",
        "She saws at the loaf with a bread knife.",
        "A fish knife.",
        "She cuts him down with a look.",
        "He cuts them out with scissors: paper dolls.",
    ],
)
def test_a_blade_at_a_meal_and_a_cut_without_one_are_none(action: str) -> None:
    assert "weapons" not in found(action)


@pytest.mark.parametrize(
    ("action", "is_stunt"),
    [
        ("He overturns the car.", True),
        ("She crashes the stolen van.", True),
        ("They overturn a police car.", True),
        ("He overturns the table.", False),
        ("She crashes the party.", False),
        ("She is sucked under the van.", True),
        ("She crashes the car of a neighbour.", True),
        ("He crashes the coach's party.", False),
        ("He crashes his cab fare on drink.", False),
        ("She wrecks her scooter helmet.", False),
        ("She crashes the old car of their conversation.", False),
    ],
)
def test_a_vehicle_that_somebody_overturns_or_crashes_moves(action: str, is_stunt: bool) -> None:
    assert ("vehicles" in found(action)) == is_stunt
