"""Cautions found by lists of words. The kinds are those common in the trade; the words on the lists, and the rules by
which a word counts, are this project's own choice."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

import screenplay
from screenplay.breakdown import caution_names, cautions_of
from tests.screenplay.scripts import any_text

DAY = "EXT. FIELD - DAY"
NIGHT = "EXT. FIELD - NIGHT"
ROOM = "INT. ROOM - DAY"
WORDS = [
    *("A", "gun,", "like", "a", "dog:", "no", "fire.", "NELL", "(6)", '"swims"', "at", "9,", "he", "hits", "her."),
    *("holds", "under", "…", "as", "if", "EXIT", "sign", "forty", "feet", "above", "-", "—", "the", "'s", "“", "”"),
]


def found(action: str, heading: str = DAY) -> dict[str, list[str]]:
    """The words found in one scene, by caution."""
    by_key: dict[str, list[str]] = {}
    for find in cautions_of(screenplay.parse(f"{heading}\n\n{action}\n"))[1]:
        by_key.setdefault(find.key, []).append(find.words)
    return by_key


@pytest.mark.parametrize(
    ("text", "caution"),
    [
        ("He draws a pistol.", "weapons"),
        ("She strikes a match; the curtain catches light.", "fire"),
        ("He climbs onto the roof and dangles.", "heights"),
        ("They wrestle. He slapped him.", "fights"),
        ("A van swerves.", "vehicles"),
        ("She swims for the quay.", "water"),
        ("A horse, then two dogs.", "animals"),
        ("A small boy waits.", "children"),
        ("They kiss.", "intimacy"),
        ("Smoke under the door.", "smoke"),
        ("He rewires the fuse box; the voltage drops.", "electricity"),
        ("The strobe turns the dancers to statues.", "strobe"),
        ("A drone hangs above the set.", "aircraft"),
        ("He goes through the window, and the glass shatters.", "glass"),
        ("The lathe turns.", "machinery"),
        ("She crawls into the drain.", "confined"),
        ("He drinks the bleach.", "gas"),
        ("The crowd stampedes.", "crowds"),
        ("The avalanche comes on.", "weather"),
    ],
)
def test_each_caution_of_the_trade_has_its_words(text: str, caution: str) -> None:
    """The twenty cautions are common practice; of these nineteen hold by day too."""
    assert caution in found(text)


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


def test_the_cautions_are_those_common_in_the_trade() -> None:
    assert list(caution_names().values()) == [
        "weapons and gunfire",
        "fire and explosions",
        "falls and heights",
        "fights",
        "moving vehicles",
        "water",
        "animals",
        "children",
        "intimacy",
        "breaking glass",
        "machinery and lifting",
        "confined spaces",
        "gas, chemicals and needles",
        "crowds",
        "weather and ground",
        "smoke and atmospherics",
        "electricity",
        "strobe and flashing lights",
        "aircraft and drones",
        "night work near roads",
    ]


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


def test_a_word_is_found_in_its_inflections_and_not_inside_another() -> None:
    assert found("He stabs him. Knives.") == {"weapons": ["stabs", "knives"]}
    assert found("Scarves on a begun cargo.") == {}


def test_a_phrase_does_not_run_from_one_line_or_sentence_into_the_next() -> None:
    assert "heights" in found("She steps on the roof.")
    assert found("She steps on the\nroof of the car.") == {}
    assert found("He looks up. At the rope. He sits.") == {}


@pytest.mark.parametrize(
    "action",
    [
        "She ducks under the table.",
        "Rhona ducks, and the plate goes by.\n\nRHONA\nWell.",
        "NED, 30, at the sill. Ned ducks under it.",
        "NED ducks under the bar. Everyone ducks. The guard ducks too.",
        "He ducks his head. She ducks her head under the beam.",
        "The plate flies at Ned. Ned ducks behind the bar.",
        "He hounds her to the door.",
        "He fires the clerk, and they part.",
        "She kicks off her shoes. He shoves the lever over and hits the lights.",
        "He strikes a bargain. She beats two eggs.",
    ],
)
def test_a_word_counts_only_in_the_use_it_is_listed_for(action: str) -> None:
    assert found(action) == {}


def test_a_thing_is_told_from_a_doing_by_the_words_beside_it() -> None:
    assert found("Two ducks by the wall.") == {"animals": ["ducks"]}
    assert found("The gun. He fires the gun.") == {"weapons": ["gun"]}
    assert found("A fire in the grate.") == {"fire": ["fire"]}


def test_a_doing_done_to_somebody_counts() -> None:
    for someone in ("him", "her", "the guard", "his face", "Sal", "her across the mouth"):
        assert "fights" in found(f"She slaps {someone}."), someone
    for something in ("the table", "her hat on", "a stamp on it"):
        assert "fights" not in found(f"She slaps {something}."), something


@pytest.mark.parametrize(
    ("cue", "action", "caution"),
    [
        ("OLD AGNIESZKA", "Tadeusz, on the back of an old horse, to its chest in the stream.", "animals"),
        ("OLD AGNIESZKA", "Old horses, three of them.", "animals"),
        ("BIG TOM", "A big knife. He picks it up.", "weapons"),
        ("RED", "Red horse, red sky.", "animals"),
        ("RED", "A red pistol.", "weapons"),
        ("THE DARK LADY", "In the dark guns, and the sea.", "weapons"),
        ("RUSTY", "The van, old and rusty, races down the hill.", "vehicles"),
    ],
)
def test_no_name_of_a_character_hides_a_caution(cue: str, action: str, caution: str) -> None:
    assert caution in found(f"{action}\n\n{cue}\nYes.")


@pytest.mark.parametrize(
    ("action", "is_animal"),
    [
        ("Cat winds the clock.", False),
        ("CAT (30) winds the clock. Cat's hand.", False),
        ("Cat lifts a cat off the chair.", True),
        ("The Cat winds the clock.", True),
        ("A CAT on the wall. Cat purrs.", True),
        ("Two cats.", True),
    ],
)
def test_who_speaks_under_a_name_is_no_animal_unless_an_article_says_so(action: str, *, is_animal: bool) -> None:
    assert ("animals" in found(f"{action}\n\nCAT\nCome in, then.", ROOM)) == is_animal


@pytest.mark.parametrize("speech", ["THE CAT\nCome in, then.", "CAT\n(purring)", "CAT\nMiaow. Miaow!"])
def test_who_only_growls_or_has_an_article_in_the_cue_may_be_an_animal(speech: str) -> None:
    assert "animals" in found(f"Cat on the wall.\n\n{speech}", ROOM)


@pytest.mark.parametrize(
    "action",
    [
        "He holds it out like a gun.",
        "She stands as if she had been shot.",
        "The drum is as high as a child.",
        "The door stands open by the width of a boy.",
        "On the wall a photograph of a horse, and a painting: a boat on a river, guns, a fire.",
        "A toy pistol. A model helicopter.",
        "Over the door a green sign: FIRE EXIT.",
        "Boards lean along the fence. RIFLE RANGE. DIVE BOMBER.",
        'The banner says "Fire Sale", and under it "No Dogs".',
        "He remembers the fire, and the dogs.",
        "There is no gun. She goes in without a knife.",
        "On the television a car crash, then a man with a rifle.",
        "The Fire Brigade has been and gone.",
        "A row of screens. On all of them horses go down to the start.",
    ],
)
def test_a_likeness_a_picture_a_sign_a_memory_and_what_is_not_there_count_for_nothing(action: str) -> None:
    assert found(action, ROOM) == {}


def test_what_is_first_met_as_a_likeness_stays_one_in_its_scene() -> None:
    assert found("A boat in the form of a swan. He lifts off the swan's head.", ROOM) == {}
    assert found("A swan. A boat in the form of a swan.", ROOM) == {"animals": ["swan"]}


def test_what_is_only_spoken_counts_nothing_by_itself_but_lends_weight_to_a_faint_word() -> None:
    assert found("A man waits.\n\nMAN\nI had a gun. I shot him.") == {}
    assert found("A crowbar lies there.\n\nMAN\nNice day.") == {}
    assert found("A crowbar lies there.\n\nMAN\nThat is no weapon.") == {"weapons": ["crowbar"]}
    assert found("A crowbar. The muzzle comes round.") == {"weapons": ["crowbar", "muzzle"]}


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


def test_rain_into_a_river_is_water_and_no_height() -> None:
    assert list(found("Leaves fall into the river.")) == ["water"]
    assert list(found("She falls into the river.")) == ["heights", "water"]


@pytest.mark.parametrize(
    ("action", "words"),
    [
        ("Milo falls.", []),
        ("MILO, a thin porter, waits. Milo falls.", ["falls"]),
        ("MILO (thin) waits. Milo slips off his hat, falls.", ["falls"]),
        ("They wait for Milo. Milo falls.", ["falls"]),
    ],
)
def test_a_sentence_begins_with_a_name_where_the_script_knows_it(action: str, words: list[str]) -> None:
    assert found(action).get("heights", []) == words


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


def test_rain_on_open_electrics_is_a_caution_of_electricity_and_water_and_weather() -> None:
    both = {"electricity": ["switch"], "water": ["rain"]}
    assert found("Rain. A grey box, its cover off, one large switch.") == {**both, "weather": ["rain"]}
    assert found("Rain on the window. He throws the switch.", ROOM) == {}
    assert found("Rain.") == {"weather": ["rain"]}
    assert found("Rain.", ROOM) == {}
    assert found("He throws the switch.") == {}


def test_vehicles_count_where_they_move_and_at_night_are_near_roads() -> None:
    assert found("Room for six cars, and one bicycle against a wall.") == {}
    assert found("A car races down the hill.") == {"vehicles": ["car races"]}
    assert found("A car races down the hill.", NIGHT) == {"vehicles": ["car races"], "night_roads": ["car races"]}
    assert "night_roads" in found("Two vans, racing along the front.", NIGHT)
    assert "night_roads" not in found("Two vans, she races by.", NIGHT)
    assert found("The parked cars. She goes by.", NIGHT) == {}
    assert "vehicles" in found("They do not speak.", "INT. CAR - DAY")
    assert found("Parked. They do not speak.", "INT. CAR - DAY") == {}


def test_a_ferry_under_way_is_water_and_no_vehicle() -> None:
    assert list(found("The ferry comes in, rocking.")) == ["water"]


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


def test_a_number_that_is_no_age_still_counts_what_follows() -> None:
    assert "heights" not in found("One of six climbs on the north face. A bell hangs from the roof of the tower.")


def test_what_is_carried_alive_is_an_animal() -> None:
    assert found("A crate of live crabs.") == {"animals": ["live crabs"]}
    assert found("A crate of crabs, on ice.", ROOM) == {}
    assert found("Live bird song on the radio. The live fish stall is closed.", ROOM) == {}


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


def test_taking_something_off_is_no_intimacy() -> None:
    assert found("He takes off his hat. She takes off her coat.", ROOM) == {}


def test_each_find_has_the_line_it_stands_on() -> None:
    script = screenplay.parse("EXT. QUAY - DAY\n\nA dog.\n\nMARA\n(drawing a pistol)\nSit.\n\nThe dog.\n")
    assert [(find.key, find.line) for find in cautions_of(script)[1]] == [
        ("water", 1),
        ("animals", 3),
        ("weapons", 6),
        ("animals", 9),
    ]


def test_what_stands_before_the_first_heading_is_searched_too() -> None:
    before, scene = cautions_of(screenplay.parse("A pistol on a table.\n\nINT. HALL - DAY\n\nNobody.\n"))
    assert [find.key for find in before] == ["weapons"]
    assert scene == ()


@given(any_text)
def test_any_text_has_finds_for_each_scene_each_on_a_line_of_it(text: str) -> None:
    script = screenplay.parse(text)
    by_scene = cautions_of(script)
    assert len(by_scene) == max(script.scene_of, default=0) + 1
    for ordinal, finds in enumerate(by_scene):
        assert {script.scene_of[find.line - 1] for find in finds} <= {ordinal}
        assert all(find.words for find in finds)


@given(st.lists(st.sampled_from(WORDS), max_size=30))
def test_any_words_in_any_order_can_be_searched(words: list[str]) -> None:
    assert set(found(" ".join(words))) <= set(caution_names())
