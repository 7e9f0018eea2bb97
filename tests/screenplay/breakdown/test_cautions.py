"""Cautions found by lists of words. The kinds are those common in the trade; the words on the lists, and the rules by
which a word counts, are this project's own choice."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

import screenplay
from screenplay.breakdown import caution_names, cautions_of
from tests.screenplay.breakdown.caution_finds import ROOM, found
from tests.screenplay.scripts import any_text

WORDS = [
    *("A", "gun,", "like", "a", "dog:", "no", "fire.", "NELL", "(6)", '"swims"', "at", "9,", "he", "hits", "her."),
    *("holds", "under", "…", "as", "if", "EXIT", "sign", "forty", "feet", "above", "-", "—", "the", "'s", "“", "”"),
]


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


def test_a_number_that_is_no_age_still_counts_what_follows() -> None:
    assert "heights" not in found("One of six climbs on the north face. A bell hangs from the roof of the tower.")


def test_what_is_carried_alive_is_an_animal() -> None:
    assert found("A crate of live crabs.") == {"animals": ["live crabs"]}
    assert found("A crate of crabs, on ice.", ROOM) == {}
    assert found("Live bird song on the radio. The live fish stall is closed.", ROOM) == {}


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
