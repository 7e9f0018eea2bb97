"""Which scene has which number in a locked script, from draft to draft: cases, and what holds of all of them.

The rules are common practice in the trade: a scene added between 5 and 6 is 5A, one cut stays as OMITTED.
"""

from __future__ import annotations

from itertools import pairwise
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from screenplay import compare, parse
from screenplay.next_draft.numbering import NumberedScene, carry_numbers, first_numbers, placed_numbers
from screenplay.script import headings_of
from tests.screenplay.scripts import any_text, some_of

LETTERS = "abcdefghijklmnopqrstuvwxyz"
HALVES = (0, 1)


def words(name: str, half: int, seed: int = 0) -> str:
    """Some lines that no other scene has: of nonsense, so that none is like another."""
    dice = Random(f"{name}{half}{seed}")
    return "\n\n".join(
        " ".join("".join(dice.choices(LETTERS, k=dice.randint(4, 9))) for _ in range(9)).capitalize() + "."
        for _ in range(4)
    )


def scene(name: str, halves: tuple[int, ...] = HALVES, number: str = "") -> str:
    mark = f" #{number}#" if number else ""
    return f"INT. {name} - DAY{mark}\n\n" + "".join(words(name, half) + "\n\n" for half in halves)


def script(names: str) -> str:
    """`ANVIL BARGE` as a script of two scenes."""
    return "".join(map(scene, names.split()))


def carried(*drafts: str) -> tuple[NumberedScene, ...]:
    """The numbers in the last of these texts, locked at the first."""
    scenes = first_numbers(parse(drafts[0]))
    for old, new in pairwise(drafts):
        scenes = carry_numbers(scenes, compare(old, new))
    return scenes


def told(scenes: tuple[NumberedScene, ...]) -> str:
    """`1 ANVIL, 2 OMITTED` and so on."""
    return ", ".join(f"{each.number} {each.heading[5:-6] if each.ordinal else 'OMITTED'}" for each in scenes)


def through(*drafts: str) -> str:
    return told(carried(*map(script, drafts)))


def test_a_script_without_numbers_is_counted_from_one() -> None:
    assert through("ANVIL BARGE CELLAR") == "1 ANVIL, 2 BARGE, 3 CELLAR"


def test_a_scene_has_the_number_in_its_heading_when_it_is_locked() -> None:
    text = scene("ANVIL", number="12A") + scene("BARGE", number="14")
    assert told(first_numbers(parse(text))) == "12A ANVIL, 14 BARGE"


def test_a_number_used_twice_is_the_first_scenes() -> None:
    text = scene("ANVIL", number="7") + scene("BARGE", number="7") + scene("CELLAR", number="8")
    assert told(first_numbers(parse(text))) == "7 ANVIL, 7A BARGE, 8 CELLAR"


def test_a_scene_without_a_number_has_its_ordinal_where_that_is_free_and_in_order() -> None:
    text = scene("ANVIL", number="1") + scene("BARGE") + scene("CELLAR", number="3") + scene("DOCK")
    assert told(first_numbers(parse(text))) == "1 ANVIL, 2 BARGE, 3 CELLAR, 4 DOCK"


def test_a_scene_without_a_number_is_lettered_where_its_ordinal_is_another_scenes() -> None:
    text = scene("ANVIL", number="1") + scene("BARGE", number="2") + scene("CELLAR") + scene("DOCK", number="3")
    assert told(first_numbers(parse(text))) == "1 ANVIL, 2 BARGE, 2A CELLAR, 3 DOCK"


def test_a_scene_without_a_number_is_lettered_where_its_ordinal_is_out_of_order() -> None:
    text = scene("ANVIL", number="10") + scene("BARGE") + scene("CELLAR", number="11")
    assert told(first_numbers(parse(text))) == "10 ANVIL, 10A BARGE, 11 CELLAR"


def test_an_added_scene_is_lettered_after_the_one_before_it() -> None:
    assert through("ANVIL BARGE", "ANVIL GABLE HEARTH BARGE") == "1 ANVIL, 1A GABLE, 1B HEARTH, 2 BARGE"


def test_a_scene_added_before_the_first_has_its_letter_in_front() -> None:
    assert through("ANVIL BARGE", "GABLE ANVIL BARGE") == "A1 GABLE, 1 ANVIL, 2 BARGE"


def test_a_scene_added_at_the_end_is_lettered_too() -> None:
    assert through("ANVIL BARGE", "ANVIL BARGE GABLE") == "1 ANVIL, 2 BARGE, 2A GABLE"


def test_a_scene_added_between_a_number_and_its_letter_finds_room() -> None:
    assert through("ANVIL BARGE", "ANVIL GABLE BARGE", "ANVIL HEARTH GABLE JETTY BARGE") == (
        "1 ANVIL, A1A HEARTH, 1A GABLE, 1B JETTY, 2 BARGE"
    )


def test_a_cut_scene_stays_as_omitted_for_ever_and_its_number_is_no_other_scenes() -> None:
    drafts = ["ANVIL BARGE CELLAR", "ANVIL CELLAR", "ANVIL GABLE CELLAR", "CELLAR", "CELLAR DOCK"]
    assert through(*drafts[:2]) == "1 ANVIL, 2 OMITTED, 3 CELLAR"
    assert through(*drafts[:3]) == "1 ANVIL, 2 OMITTED, 2A GABLE, 3 CELLAR"
    assert through(*drafts[:4]) == "1 OMITTED, 2 OMITTED, 2A OMITTED, 3 CELLAR"
    assert through(*drafts) == "1 OMITTED, 2 OMITTED, 2A OMITTED, 3 CELLAR, 3A DOCK"


def test_an_omitted_scene_has_the_heading_and_the_text_it_last_had() -> None:
    _, cut = carried(script("ANVIL BARGE"), script("ANVIL"))
    assert (cut.ordinal, cut.heading, cut.text) == (None, "INT. BARGE - DAY", scene("BARGE"))


def test_a_moved_scene_keeps_its_number() -> None:
    assert through("ANVIL BARGE CELLAR DOCK", "ANVIL CELLAR DOCK BARGE") == "1 ANVIL, 3 CELLAR, 4 DOCK, 2 BARGE"


def test_a_scene_added_beside_a_moved_one_goes_by_the_one_before_it() -> None:
    assert through("ANVIL BARGE CELLAR DOCK", "ANVIL CELLAR DOCK GABLE BARGE") == (
        "1 ANVIL, 3 CELLAR, 4 DOCK, 4A GABLE, 2 BARGE"
    )


def test_omitted_scenes_stay_in_place_when_the_scene_before_them_moves_away() -> None:
    drafts = "ANVIL BARGE CELLAR DOCK EAVES", "ANVIL BARGE DOCK EAVES", "ANVIL DOCK EAVES BARGE"
    assert through(*drafts) == "1 ANVIL, 3 OMITTED, 4 DOCK, 5 EAVES, 2 BARGE"


def test_a_restored_scene_takes_its_old_number_back() -> None:
    drafts = "ANVIL BARGE CELLAR", "ANVIL CELLAR", "ANVIL CELLAR DOCK", "ANVIL BARGE CELLAR DOCK"
    assert through(*drafts) == "1 ANVIL, 2 BARGE, 3 CELLAR, 3A DOCK"


def test_a_restored_scene_takes_its_number_back_wherever_it_comes_back() -> None:
    assert through("ANVIL BARGE CELLAR", "ANVIL CELLAR", "ANVIL CELLAR BARGE") == "1 ANVIL, 3 CELLAR, 2 BARGE"


def test_a_scene_restored_with_some_words_changed_is_known_again() -> None:
    back = scene("BARGE").replace(words("BARGE", 1), words("BARGE", 1, seed=1)) + words("BARGE", 1)
    text = scene("ANVIL") + back + "\n\n" + scene("CELLAR")
    assert told(carried(script("ANVIL BARGE CELLAR"), script("ANVIL CELLAR"), text)) == "1 ANVIL, 2 BARGE, 3 CELLAR"


def test_another_scene_under_the_heading_of_a_cut_one_is_not_that_one_come_back() -> None:
    other = "INT. BARGE - DAY\n\n" + words("GABLE", 0) + "\n\n"
    text = scene("ANVIL") + other + scene("CELLAR")
    assert told(carried(script("ANVIL BARGE CELLAR"), script("ANVIL CELLAR"), text)) == (
        "1 ANVIL, 2 OMITTED, 2A BARGE, 3 CELLAR"
    )


def test_a_renamed_scene_keeps_its_number() -> None:
    renamed = scene("BARGE").replace("INT. BARGE", "INT. GABLE")
    assert told(carried(script("ANVIL BARGE"), scene("ANVIL") + renamed)) == "1 ANVIL, 2 GABLE"


def test_the_first_part_of_a_split_scene_keeps_the_number_and_the_rest_is_lettered() -> None:
    parted = scene("BARGE", halves=(0,)) + "EXT. SLIPWAY - DAY\n\n" + words("BARGE", 1) + "\n\n"
    drafts = script("ANVIL BARGE CELLAR"), scene("ANVIL") + parted + scene("CELLAR")
    assert told(carried(*drafts)) == "1 ANVIL, 2 BARGE, 2A SLIPWAY, 3 CELLAR"


def test_of_merged_scenes_the_first_number_stays_and_the_other_is_omitted() -> None:
    merged = scene("BARGE") + words("CELLAR", 0) + "\n\n" + words("CELLAR", 1) + "\n\n"
    drafts = script("ANVIL BARGE CELLAR DOCK"), scene("ANVIL") + merged + scene("DOCK")
    assert told(carried(*drafts)) == "1 ANVIL, 2 BARGE, 3 OMITTED, 4 DOCK"


def test_merged_scenes_that_are_parted_again_have_their_old_numbers() -> None:
    apart = script("ANVIL BARGE CELLAR DOCK")
    merged = scene("BARGE") + words("CELLAR", 0) + "\n\n" + words("CELLAR", 1) + "\n\n"
    assert told(carried(apart, scene("ANVIL") + merged + scene("DOCK"), apart)) == (
        "1 ANVIL, 2 BARGE, 3 CELLAR, 4 DOCK"
    )


def test_the_lock_wins_over_numbers_in_the_text_of_a_later_draft() -> None:
    later = scene("ANVIL", number="7") + scene("GABLE", number="8") + scene("BARGE", number="9")
    assert told(carried(script("ANVIL BARGE"), later)) == "1 ANVIL, 1A GABLE, 2 BARGE"


def test_a_script_that_had_no_scene_when_it_was_locked_is_numbered_when_it_has_some() -> None:
    assert told(carried("Rain.\n", script("ANVIL BARGE"))) == "1 ANVIL, 2 BARGE"


def test_the_numbers_alone_are_what_pages_are_set_with() -> None:
    assert placed_numbers(carried(script("ANVIL BARGE"), script("BARGE"))) == (("1", None), ("2", 1))


NAMES = ["ANVIL", "BARGE", "CELLAR", "DOCK", "EAVES", "FORGE", "GABLE", "HEARTH", "IVORY", "JETTY"]
ORDERS = st.lists(some_of(NAMES, most=24).map(lambda names: list(dict.fromkeys(names))), min_size=2, max_size=5)
LAWS = settings(max_examples=60)


def assert_sound(scenes: tuple[NumberedScene, ...], text: str) -> None:
    """No number twice, and every scene of the text has one, in order."""
    numbers = [each.number for each in scenes]
    assert len({number.upper() for number in numbers}) == len(numbers)
    ordinals = [each.ordinal for each in scenes if each.ordinal is not None]
    assert ordinals == list(range(1, len(headings_of(parse(text))) + 1))


@LAWS
@given(ORDERS)
def test_a_number_is_the_same_scenes_in_every_draft_and_none_is_ever_lost(orders: list[list[str]]) -> None:
    texts = ["".join(map(scene, names)) for names in orders]
    scenes = first_numbers(parse(texts[0]))
    name_of: dict[str, str] = {}
    for at, text in enumerate(texts):
        before = scenes
        scenes = carry_numbers(scenes, compare(texts[at - 1], text)) if at else scenes
        assert_sound(scenes, text)
        omitted_scenes_never_change_places_among_themselves(before, scenes)
        assert set(name_of) <= {each.number for each in scenes}
        for each in scenes:
            assert name_of.setdefault(each.number, each.heading) == each.heading
    if orders[0]:
        assert len(set(name_of.values())) == len(name_of)  # and a scene that came back has no second number


def omitted_scenes_never_change_places_among_themselves(
    scenes: tuple[NumberedScene, ...], later: tuple[NumberedScene, ...]
) -> None:
    omitted = [each.number for each in scenes if each.ordinal is None]
    still = [each.number for each in later if each.ordinal is None and each.number in omitted]
    assert still == [number for number in omitted if number in still]


@LAWS
@given(st.lists(any_text, min_size=2, max_size=4))
def test_every_scene_of_any_text_has_a_number_of_its_own(texts: list[str]) -> None:
    scenes = first_numbers(parse(texts[0]))
    assert_sound(scenes, texts[0])
    for old, new in pairwise(texts):
        later = carry_numbers(scenes, compare(old, new))
        assert_sound(later, new)
        assert {each.number for each in scenes} <= {each.number for each in later}
        scenes = later


@LAWS
@given(any_text)
def test_a_draft_with_the_same_text_has_the_same_numbers(text: str) -> None:
    scenes = first_numbers(parse(text))
    assert carry_numbers(scenes, compare(text, text)) == scenes
