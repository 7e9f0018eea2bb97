"""Who is a child, by the age or the word at their introduction (common practice: a name in capitals, then the age)."""

from __future__ import annotations

import pytest

import screenplay
from screenplay.breakdown import cautions_of


def children(text: str) -> list[list[str]]:
    """The words of the caution for children in each scene."""
    return [
        list(dict.fromkeys(find.words for find in finds if find.key == "children"))
        for finds in cautions_of(screenplay.parse(text))[1:]
    ]


def introduced(action: str) -> list[str]:
    return children(f"INT. HALL - DAY\n\n{action}\n")[0]


@pytest.mark.parametrize(
    ("action", "words"),
    [
        ("TUCK, 6, sits on the slip.", ["TUCK, 6"]),
        ("TUCK (6) sits on the slip.", ["TUCK, 6"]),
        ("KIT, aged 17, leans there.", ["KIT, 17"]),
        ("BEA, nine, in a coat.", ["BEA, 9"]),
        ("BEA, barely nine and cold, waits.", ["BEA, 9"]),
        ("NELL, a nine-year-old in boots, waits.", ["NELL, 9", "nine-year-old"]),
        ("Their sixteen-year-old, CASS, paints.", ["CASS, sixteen-year-old", "sixteen-year-old"]),
        ("FINN, a boy of about ten.", ["boy", "FINN, boy"]),
        ("A small boy, TUCK, waits.", ["boy", "TUCK, boy"]),
        ("A child called FINCH lifts a hide.", ["child", "FINCH, child"]),
        ("Her son, 8, does not look up.", ["son, 8"]),
        ("An eleven-year-old on a scooter.", ["eleven-year-old"]),
        ("Thirty six-year-olds pour down the stairs.", ["six-year-olds"]),
        ("TWO SIX-YEAR-OLDS on a swing.", ["six-year-olds"]),
        ("A nine year old boy waits.", ["boy", "nine year old"]),
        ("A 9 year-old on a scooter.", ["9 year-old"]),
        ("An 8-YEAR-OLD stares.", ["8-year-old"]),
        ("The ten-year-old cries.", ["ten-year-old"]),
        ("The ten-year-old silently closes the door.", ["ten-year-old"]),
        ("The eleven-year-old's bag spills.", ["eleven-year-old"]),
        ("A nine-year-old clutching a doll.", ["nine-year-old"]),
        ("A nine-year-old dressed as a pirate.", ["nine-year-old"]),
        ("A nine-year-old red-haired violinist bows.", ["nine-year-old"]),
        ("The ten-year-old lets go of the swing.", ["ten-year-old"]),
        ("Upstairs the ten-year-old plays football.", ["ten-year-old"]),
        ("The man carrying the ten-year-old smiles.", ["ten-year-old"]),
        ("The man behind the ten-year-old stops.", ["ten-year-old"]),
        ("The man who holds the ten-year-old nods.", ["ten-year-old"]),
        ("She looks up as the ten-year-old cries.", ["ten-year-old"]),
        ("The ten-year-old is served her soup.", ["ten-year-old"]),
        ("The ten-year-old is gently carried out.", ["ten-year-old"]),
        ("The ten-year-old is parked in front of the television.", ["ten-year-old"]),
        ("Mara hands the ten-year-old sweets.", ["ten-year-old"]),
        ("The ten-year-old has opened every drawer.", ["ten-year-old"]),
        ("A girl of nine.", ["girl"]),
        ("JUNE, 12, barefoot, waits.", ["JUNE, 12"]),
        ("JUNE (12) waits.", ["JUNE, 12"]),
        ("JUNE, 12.\n\nJUNE\nYes.", ["JUNE, 12"]),
        ("Priya Nair (9) waits.", ["Priya Nair, 9"]),
        ("Priya, aged 9, waits.", ["Priya, 9"]),
    ],
)
def test_an_age_under_eighteen_or_a_word_beside_a_name_is_a_child(action: str, words: list[str]) -> None:
    assert set(introduced(action)) == set(words)


@pytest.mark.parametrize(
    "action",
    [
        "NELL, 18, sits on the slip.",
        "Nell, 6 feet away.",
        "The REGISTRAR, sixty, coat already on.",
        "HARRIS, two bags over his shoulder.",
        "MAX, child psychologist, nods.",
        "ROOM 12, and NUMBER 9 opposite.",
        "The SIGN, four feet across.",
        "A ten-year-old Volvo, and a twenty-year-old at the wheel.",
        "INTERCUT - STATION / TAXI #3#",
        "MONTAGE - THE CROSSING #5#",
        "NELL waits on PLATFORM #9.",
        "KITCHEN / 3",
        "A nine year old car, and a twelve-year-old dog.",
        "He pours a twelve-year-old whisky.",
        "The twelve year old whisky stands there.",
        "A twelve-year-old scar on her chin.",
        "A twelve-year-old feud.",
        "A ten-year-old building on the corner.",
        "The twelve-year-old is poured.",
        "The five-year-old has been carefully parked outside.",
        "The ten-year-old secrets spill.",
        "The ten-year-old curtains are drawn.",
        "She draws the ten-year-old curtains.",
        "A calendar: MARCH, 12.",
        "The page of PSALM, 9.",
        "The six-year-old laptop hums.",
        "The twenty-year-old cries.",
        "Platform (9) is empty, and Page (9).",
        "Chairs (4) and tables (2).",
        "Priya (41) waits.",
    ],
)
def test_an_adult_or_another_number_is_none(action: str) -> None:
    assert introduced(action) == []


@pytest.mark.parametrize(
    ("adult", "child"),
    [
        ("Her stepson, 40, waits.", "Her stepson, 9, waits."),
        ("Her stepson (40) waits.", "Her stepson (9) waits."),
        ("Their daughter, 35, looks up.", "Their daughter, 5, looks up."),
        ("Her stepson MARTIN, 40, waits.", "Her stepson MARTIN, 9, waits."),
        ("MARTIN, 40, her stepson, waits.", "MARTIN, 9, her stepson, waits."),
        ("MARTIN (40), Ida's stepson, waits.", "MARTIN, 40, holds his stepson's hand."),
        ("Her forty-year-old stepson waits.", "The forty-year-old and her stepson wait."),
        ("Her stepdaughter, in her thirties, waits.", "Her stepdaughter, in her pyjamas, waits."),
        ("Her stepson, a man of forty, waits.", "Her stepson, a man beside him, waits."),
        ("A girl of twenty-two laughs.", "A girl of twelve laughs."),
        ("Her baby brother, 28, laughs.", "Her baby brother, 28 months, laughs."),
        ("Two stepsons, in their fifties, wait.", "Two stepsons, in their blazers, wait."),
        ("Two girls, both 19, laugh.", "Two girls, both 9, laugh."),
    ],
)
def test_an_age_beside_a_word_for_a_child_decides(adult: str, child: str) -> None:
    assert introduced(adult) == []
    assert introduced(child)


@pytest.mark.parametrize(
    "action",
    [
        "The boy helps an elderly woman.",
        "The child hides behind a grown man.",
        "A toddler clings to a man of sixty.",
        "The children follow an elderly teacher.",
        "A girl watches a man in his forties light a stove.",
        "The boy has grown tired.",
        "Her stepson hands a parcel to an elderly neighbour.",
        "The boy, afraid of a grown man, hides.",
        "AGNES, 40, her baby in her arms, waits.",
        "AGNES (40), her boy beside her, waits.",
        "TOM, 40, his boy at his side, walks in.",
        "Agnes, 40, her stepson on her hip, sways.",
        "Her sister, 8 months, waits.",
        "Her son Milo, 6, hides.",
        "Her nephew Milo (6) hides.",
    ],
)
def test_a_child_beside_an_adult_is_one_all_the_same(action: str) -> None:
    assert introduced(action)


@pytest.mark.parametrize(
    "action",
    [
        "Her sister, 8 months pregnant, waits.",
        "Her sister, ten years older, waits.",
        "His sister, six years his junior, smiles.",
        "Her brother, twelve years ago.",
        "Her brother, 7:30, waits.",
        "Her brother, 9th in the queue, waits.",
        "Her sister, 10%, frowns.",
        "Her brother, 6'2\", stoops.",
        "Her brother, 6ft, stoops.",
        "Her brother Milo, 36, hides.",
        "Her brother Milo, two bags in hand, hides.",
    ],
)
def test_what_is_counted_of_a_sister_is_not_always_her_age(action: str) -> None:
    assert introduced(action) == []


def test_a_stepson_who_is_grown_up_once_is_so_throughout() -> None:
    assert children("INT. A - DAY\n\nHer stepson, 40.\n\nINT. B - DAY\n\nThe stepson waits.\n") == [[], []]
    two = "INT. A - DAY\n\nHer stepson, 40.\n\nINT. B - DAY\n\nHis stepson, 9.\n\nINT. C - DAY\n\nA stepson waits.\n"
    assert children(two) == [[], ["stepson", "stepson, 9"], ["stepson"]]


def test_a_child_is_one_wherever_they_speak_or_stand() -> None:
    text = (
        "EXT. DECK - DAY\n\nKIT PELL, 15, and ABEL PELL, 71.\n\nKIT\nNine.\n\n"
        "INT. OFFICE - DAY\n\nABEL\nAfter.\n\nKIT\n(through the hatch)\nNow?\n\n"
        "EXT. SLIP - NIGHT\n\nHe addresses Kit, and a man with a camera.\n\n"
        "INT. SHED - NIGHT\n\nAbel, alone, with his kit.\n\n"
        "INT. HALL - DAY\n\nNobody looks like Kit.\n"
    )
    assert children(text) == [["KIT PELL, 15"], ["KIT PELL, 15"], ["KIT PELL, 15"], [], []]


def test_a_child_who_is_only_heard_from_elsewhere_is_not_there() -> None:
    text = "INT. A - DAY\n\nKIT, 15.\n\nINT. B - DAY\n\nKIT (V.O.)\nYes.\n\nINT. C - DAY\n\nKIT (O.S.)\nYes.\n"
    assert children(text) == [["KIT, 15"], [], ["KIT, 15"]]


def test_a_child_by_the_name_of_the_cue_needs_no_introduction() -> None:
    assert children("INT. A - DAY\n\nLITTLE GIRL\nYes.\n\nINT. B - DAY\n\nBOY 2\nNo.\n") == [["LITTLE GIRL"], ["BOY 2"]]


def test_who_is_introduced_again_as_another_age_is_so_in_that_scene() -> None:
    text = (
        "INT. A - DAY\n\nRHONA, 38.\n\nRHONA\nYes.\n\nINT. B - DAY (YEARS AGO)\n\nRHONA, 16, in bed.\n\n"
        "INT. A - DAY\n\nRHONA\nNo.\n"
    )
    assert children(text) == [[], ["RHONA, 16"], []]


def test_a_name_is_also_known_in_small_letters_if_it_is_that_of_a_cue() -> None:
    assert children("INT. A - DAY\n\nNell, 6, waits.\n\nNELL\nYes.\n") == [["Nell, 6"]]


TWICE_TOLD = """INT. DAM - DAY

TADEUSZ KRÓL (71), long coat, on the bank.

TADEUSZ
No.

EXT. ORCHARD - DAY

YOUNG TADEUSZ (9), up a ladder.

YOUNG TADEUSZ
Yes.

EXT. STREET - NIGHT

Tadeusz on the back of a horse.

TADEUSZ
Now.

EXT. ORCHARD - DAY

Young Tadeusz waits.
"""


def test_whoever_is_young_elsewhere_in_the_script_is_no_child_today() -> None:
    young = ["YOUNG TADEUSZ, 9"]
    assert children(TWICE_TOLD) == [[], young, [], young]
    assert children(TWICE_TOLD.replace(" KRÓL (71)", "")) == [[], young, [], young]
    assert children(TWICE_TOLD.replace("\n\nYOUNG TADEUSZ\nYes.", "")) == [[], young, [], young]


def test_a_surname_makes_nobody_a_child_whom_it_shares_with_one() -> None:
    text = "INT. A - DAY\n\nKIT PELL, 15, and ABEL PELL, 71.\n\nKIT PELL\nYes.\n\nINT. B - DAY\n\nPELL\nNo.\n"
    assert children(text) == [["KIT PELL, 15"], []]


def test_a_child_is_one_by_a_part_of_their_name_that_is_nobody_elses() -> None:
    assert children("INT. A - DAY\n\nLITTLE NELL, 8.\n\nINT. B - DAY\n\nNELL\nYes.\n") == [["LITTLE NELL, 8"]] * 2
    text = "INT. A - DAY\n\nKIT PELL, 15, with a KIT BAG.\n\nKIT PELL\nNo.\n\nINT. B - DAY\n\nKit waits.\n"
    assert children(text) == [["KIT PELL, 15"]] * 2


@pytest.mark.parametrize(
    "now",
    [
        "EIRIK, 45 now, rows.",
        "Eirik (now 45) rows.",
        "EIRIK (40s) rows.",
        "Eirik, in his forties, rows.",
        "Eirik, now a man of 45, rows.",
        "Eirik rows. EIRIK, 45 today, looks up.",
    ],
)
def test_who_was_a_child_is_none_in_a_scene_that_has_them_older(now: str) -> None:
    text = f"EXT. A - DAY\n\nEIRIK (14) rows.\n\nEIRIK\nNo.\n\nEXT. B - DAY\n\n{now}\n\nEIRIK\nYes.\n"
    assert children(text) == [["EIRIK, 14"], []]


def test_who_has_two_names_in_a_cue_is_as_old_by_each_in_that_scene() -> None:
    young = "EXT. A - DAY\n\nEIRIK (14) rows.\n\nEIRIK\nNo.\n\n"
    old = "A STRANGER (45) on the ramp.\n\nSTRANGER / EIRIK\nI heard the bell.\n\nEIRIK\nYes.\n\n"
    assert children(f"{young}EXT. B - DAY\n\n{old}") == [["EIRIK, 14"], []]


def test_a_child_in_the_clothes_of_a_decade_is_one_still() -> None:
    text = "EXT. A - DAY\n\nNELL (9) rows.\n\nNELL\nNo.\n\nEXT. B - DAY\n\nNELL, 60s dress, rows.\n"
    assert children(text) == [["NELL, 9"], ["NELL, 9"]]


@pytest.mark.parametrize(
    ("action", "words"),
    [
        ("LITTLE BO (4 months) sleeps.", "LITTLE BO, 4 months"),
        ("BO, six weeks old, sleeps.", "BO, six weeks"),
        ("BO, 18 months, walks.", "BO, 18 months"),
        ("BO, an eight-month-old, crawls.", "BO, eight-month-old"),
        ("BO, 2 years old, runs.", "BO, 2"),
    ],
)
def test_a_baby_is_as_old_as_is_told(action: str, words: str) -> None:
    """Common practice: by the month, as hours and who has to be there go by it."""
    assert words in introduced(action)
