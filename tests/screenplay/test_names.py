"""Cues that are one character's, and names in action."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from screenplay import lay_out, parse, voices
from screenplay.names import AS_WRITTEN, CueNames, action_naming, alike_cues, alike_names, why_alike, with_names
from screenplay.script import characters_of, part_of, scenes_of
from screenplay.speech import part_speeches

SCRIPT = """INT. A - DAY

MARA
No.

MARA'S VOICE
Yes.

YOUNG MARA
Well.

INT. B - DAY

MA RA
So.

ILSE
Ilse of Maras.
"""
MERGED = CueNames((("MARA'S VOICE", "MARA"), ("ma ra", "MARA")))


def test_cues_that_were_merged_are_one_character_in_every_count() -> None:
    script = with_names(parse(SCRIPT), MERGED)
    pages = lay_out(script)

    assert {one.name: one.speeches for one in characters_of(script)} == {"MARA": 3, "YOUNG MARA": 1, "ILSE": 1}
    assert {voice.name: voice.scenes for voice in voices(pages)} == {"MARA": 2, "YOUNG MARA": 1, "ILSE": 1}
    assert [scene.characters for scene in scenes_of(script, pages.layout)] == [("MARA", "YOUNG MARA"), ("MARA", "ILSE")]
    assert part_of(script, "MARA").speeches == {3, 4, 6, 7, 14, 15}
    assert [speech.line for speech in part_speeches(script, "MARA")] == [3, 6, 14]


def test_merging_changes_nothing_of_the_page() -> None:
    plain, merged = parse(SCRIPT), with_names(parse(SCRIPT), MERGED)
    assert lay_out(plain).layout == lay_out(merged).layout
    assert merged.source == plain.source


def test_cues_that_look_alike_are_proposed_until_something_is_said_of_them() -> None:
    script = parse(SCRIPT)
    found = {(one.name, one.other): one.why for one in alike_cues(script)}

    assert found[("MA RA", "MARA")] == "the same letters"
    assert found[("MARA", "MARA'S VOICE")] == "one name within the other"
    assert ("MARA", "YOUNG MARA") in found
    assert not any("ILSE" in pair for pair in found)
    names = CueNames(MERGED.merged, frozenset({frozenset({"Mara", "Young Mara"})}))
    assert alike_cues(script, names) == ()
    assert (names.name_of("Mara's Voice"), names.name_of("ILSE")) == ("MARA", "ILSE")


def test_what_is_said_of_names_is_the_same_out_of_plain_data() -> None:
    names = CueNames().with_one("MARA'S VOICE", "MARA").with_two("YOUNG MARA", "MARA")
    assert CueNames.of(names.as_plain_data) == names
    assert CueNames.of({}) == CueNames()


def test_action_names_somebody_with_a_capital_letter() -> None:
    script = parse("Mara runs. MARA'S boat.\n\nmara, mara!\n\nA young mara; Maras.\n\nO'NEIL-Mara\n")
    assert action_naming(script, ["MARA", "YOUNG MARA", "O'NEIL", ""]) == {
        "MARA": (1, 7),
        "YOUNG MARA": (5,),
        "O'NEIL": (7,),
        "": (),
    }


def test_the_name_of_another_names_nobody_whose_name_is_part_of_it() -> None:
    cues = "MARA\nNo.\n\nYOUNG MARA\nYes.\n\nMARA AND ILSE\nWell.\n\nILSE\nSo.\n\n"
    script = parse(f"INT. A - DAY\n\n{cues}Young Mara runs.\n\nYOUNG MARA and Mara.\n\nMara and Ilse.\n")
    assert action_naming(script, ["MARA"]) == {"MARA": (17, 19)}
    assert action_naming(script, ["ILSE", "YOUNG MARA"]) == {"ILSE": (19,), "YOUNG MARA": (15, 17)}
    assert action_naming(with_names(script, CueNames((("YOUNG MARA", "MARA"),))), ["MARA"]) == {"MARA": (15, 17, 19)}


@pytest.mark.parametrize(
    ("line", "is_there"),
    [
        ("The tin desk. Desmond's cap on its hook.", False),
        ("DESMOND’S COTTAGE. The cap is Desmond's.", False),
        ("Desmond's cap on its hook. Desmond looks at it.", True),
        ("Desmond's burnt left hand shakes.", True),
        ("Desmond's asleep at the desk.", True),
        ("Desmond's pulling at the rope.", True),
        ("Desmond's gone to the window.", True),
        ("Desmond's alive.", True),
        ("Desmond's angry now, and afraid.", True),
        ("'Desmond' is on the door.", True),
    ],
)
def test_who_merely_owns_what_is_there_is_not_there(line: str, *, is_there: bool) -> None:
    found = action_naming(parse(f"INT. A - DAY\n\n{line}\n"), ["DESMOND"])["DESMOND"]
    assert bool(found) is is_there


def test_a_quoted_name_that_ends_in_s_owns_nothing() -> None:
    script = parse("INT. A - DAY\n\n'Moss' walks in.\n\nMOSS\nHello.\n")
    assert action_naming(script, ["MOSS"])["MOSS"] == (3,)


def test_a_name_that_ends_in_s_owns_by_an_apostrophe_alone() -> None:
    script = parse("INT. A - DAY\n\nAgnes' coat.\n\nAgnes's coat.\n\nAgnes, coatless.\n")
    assert action_naming(script, ["AGNES"])["AGNES"] == (7,)


@pytest.mark.parametrize(
    ("name", "longer", "are_alike"),
    [("ROOM", "ROOM 12", False), ("GUARD", "GUARD #2", False), ("ROOM", "ROOM 12 A", True), ("12", "ROOM 12", True)],
)
def test_a_number_alone_makes_no_name_look_like_the_one_without(name: str, longer: str, *, are_alike: bool) -> None:
    assert bool(why_alike(name, longer)) is are_alike


WORDS = st.sampled_from(["ma", "ra", "mara", "mara's", "old", "-", "voice"])
NAMES = st.lists(st.lists(WORDS, min_size=1, max_size=5).map(" ".join), max_size=8)


@given(NAMES)
def test_names_are_alike_that_are_when_every_two_are_held_against_each_other(met: list[str]) -> None:
    often = sorted(set(met), key=lambda name: (-met.count(name), name))
    expected = [(one, other) for one, other in combinations(often, 2) if why_alike(one, other)]
    assert [(found.name, found.other) for found in alike_names(met, AS_WRITTEN, why_alike)] == expected
