"""Whom a changed scene concerns. Cautions and departments are as the trade commonly has them; the words on the lists
are this project's own choice."""

from __future__ import annotations

import pytest

import screenplay
from screenplay.breakdown import PlaceNames
from screenplay.next_draft.scene_concerns import Change, ChangedScene, SceneConcerns, concerns
from screenplay.script import headings_of

BOATHOUSE = """INT. BOATHOUSE - NIGHT

NELL climbs the ladder with a lantern.

NELL (ON RADIO)
The fire is out.

TOBIAS
Come down.
"""


def of_scene(old: str, new: str, changes: tuple[Change, ...] = ()) -> SceneConcerns:
    """The concerns of the first scene of two scripts."""
    comparison = screenplay.compare(old, new)
    scene = ChangedScene(
        1 if headings_of(comparison.old) else None, 1 if headings_of(comparison.new) else None, changes
    )
    return concerns(comparison, [scene])[0]


def line_of(text: str, words: str) -> int:
    return next(number for number, line in enumerate(text.splitlines(), 1) if words in line)


def test_what_is_only_spoken_is_not_searched_and_what_stands_beside_a_name_is() -> None:
    found = of_scene(BOATHOUSE, BOATHOUSE, (Change(tuple(range(1, 10)), tuple(range(1, 10))),))
    assert {one.key for one in found.cautions} == {"heights"}
    assert "radio" in next(one.words for one in found.words if one.key == "sound")


def test_a_caution_says_whether_it_came_went_or_stood_in_lines_that_did_not_change() -> None:
    new = BOATHOUSE.replace("climbs the ladder with a lantern", "draws a knife")
    action = line_of(BOATHOUSE, "ladder")
    changed = {one.key: one for one in of_scene(BOATHOUSE, new, (Change((action,), (action,)),)).cautions}
    assert (changed["weapons"].is_new, changed["weapons"].in_change) == (True, True)
    assert (changed["heights"].is_over, changed["heights"].words, changed["heights"].in_change) == (
        True,
        ("ladder",),
        True,
    )
    speech = line_of(BOATHOUSE, "Come down")
    [kept] = of_scene(BOATHOUSE, BOATHOUSE, (Change((speech,), (speech,)),)).cautions
    assert (kept.is_new, kept.is_over, kept.in_change) == (False, False, False)
    [parted] = of_scene(BOATHOUSE, BOATHOUSE, (Change((action,), (action,), is_of_words=False),)).cautions
    assert not parted.in_change, "its line stands in more paragraphs, with the words that it had"


def test_a_caution_tells_which_of_its_words_were_taken_out() -> None:
    old = BOATHOUSE.replace("with a lantern.", "with a lantern.\n\nA pistol lies there. A knife lies by it.")
    line = line_of(old, "pistol")
    new = old.replace(" A knife lies by it.", "")
    [weapons] = (one for one in of_scene(old, new, (Change((line,), (line,)),)).cautions if one.key == "weapons")
    assert (weapons.words, weapons.taken_out, weapons.in_new_lines) == (("pistol",), ("knife",), True)
    new = old.replace("\n\nA pistol lies there. A knife lies by it.", "\n\nA knife lies by it.\n\nA rifle.")
    changed = (Change((line,), (line_of(new, "rifle"),)),)
    [weapons] = (one for one in of_scene(old, new, changed).cautions if one.key == "weapons")
    assert (weapons.words, weapons.taken_out) == (("knife", "rifle"), ("pistol",))


def test_words_of_a_caution_that_stand_in_the_new_text_are_not_taken_out() -> None:
    old = BOATHOUSE.replace("climbs the ladder with a lantern.", "waits. The van skids, tips over. Glass bursts.")
    new = old.replace("skids, tips over. Glass bursts.", "skids and stops.")
    line = line_of(old, "van")
    [stunt] = (one for one in of_scene(old, new, (Change((line,), (line,)),)).cautions if one.key == "vehicles")
    assert (stunt.is_over, stunt.taken_out, stunt.standing, stunt.in_change) == (False, (), (), True)
    gone = new.replace("skids and stops", "stops")
    [stunt] = (one for one in of_scene(new, gone, (Change((line,), (line,)),)).cautions if one.key == "vehicles")
    assert stunt.taken_out == ("skids",)


def test_words_that_no_list_finds_any_more_and_that_stand_there_still_are_told_apart() -> None:
    old = BOATHOUSE.replace("climbs the ladder with a lantern.", "has a gun and a knife.")
    new = old.replace("a gun and a knife", "a glue gun")
    line = line_of(old, "gun")
    [over] = of_scene(old, new, (Change((line,), (line,)),)).cautions
    assert (over.is_over, over.words, over.standing) == (True, ("gun", "knife"), ("gun",))


@pytest.mark.parametrize(
    ("was", "now"),
    [
        ("He falls off the roof.", "He falls silent and turns off the lamp. A new roof costs too much."),
        ("The van skids.", "The van stops, and nobody skids."),
        ("The van skids.", "There is the van. Skids of wood lie by it."),
    ],
)
def test_words_that_stand_apart_now_are_gone(was: str, now: str) -> None:
    old = BOATHOUSE.replace("climbs the ladder with a lantern.", f"waits. {was}")
    new = old.replace(was, now)
    line = line_of(old, was)
    cautions = of_scene(old, new, (Change((line,), (line,)),)).cautions
    assert any(one.is_over or one.taken_out for one in cautions)
    assert [one.standing for one in cautions if one.standing] == []


def test_changed_lyrics_concern_music() -> None:
    old = "INT. HALL - DAY\n\nNELL\n~Over the water\n"
    found = of_scene(old, old.replace("water", "river"), (Change((4,), (4,)),))
    assert {one.key: one.words for one in found.words}["music"] == ("lyrics",)


def test_place_setting_time_and_cast_are_told_where_they_changed() -> None:
    new = BOATHOUSE.replace("INT. BOATHOUSE - NIGHT", "EXT. SLIPWAY - DAWN").replace("TOBIAS", "ANSELM")
    found = of_scene(BOATHOUSE, new)
    assert found.place == ("BOATHOUSE", "SLIPWAY")
    assert found.setting == ("INT.", "EXT.")
    assert found.light == ("night", "dawn")
    assert (found.came, found.left) == (("ANSELM",), ("TOBIAS",))


SEATED = "INT. PARLOUR - NIGHT\n\n{0}\n\nNELL\nWe never wait.\n\nINT. KITCHEN - DAY\n\nSIRI\n{1}\n\nBO\nYes.\n"


@pytest.mark.parametrize(
    ("before", "after", "named", "unnamed"),
    [
        ("Nell lays two places.", "Nell lays two places. SIRI, 7, slides under the table.", ("SIRI",), ()),
        ("Nell pours. Bo counts coins.", "Nell pours.", (), ("BO",)),
        ("Bo pours.", "Bo pours again.", (), ()),
        ("She pours.", "Nell pours.", (), ()),
    ],
    ids=["somebody new stands in it", "somebody left", "somebody stays", "somebody who speaks is named too"],
)
def test_who_only_stands_in_a_scene_is_told_by_what_the_action_names(
    before: str, after: str, named: tuple[str, ...], unnamed: tuple[str, ...]
) -> None:
    for first, second, came, left in ((before, after, named, unnamed), (after, before, unnamed, named)):
        found = of_scene(SEATED.format(first, "Is it late?"), SEATED.format(second, "Is it late?"))
        assert (found.named, found.unnamed) == (came, left)
        assert found.came == found.left == ()


def test_whoever_says_nothing_more_anywhere_still_stands_where_they_are_named() -> None:
    old = SEATED.format("Bo pours.", "Is it late?")
    found = of_scene(old, old.replace("\n\nBO\nYes.", "").replace("Bo pours.", "Bo pours again."))
    assert (found.named, found.unnamed) == ((), ())


def test_a_name_that_changed_throughout_is_no_change_of_cast_or_place() -> None:
    old = BOATHOUSE + "\nTOBIAS\nNow.\n\nEXT. BOATHOUSE - DAY\n\nTOBIAS\nSo.\n\nNELL\nYes.\n"
    found = of_scene(old, old.replace("TOBIAS", "ANSELM").replace("BOATHOUSE", "CHANDLERY"))
    assert (found.place, found.came, found.left) == (None, (), ())


def test_whoever_left_or_was_taken_out_is_called_by_the_name_of_now() -> None:
    old = BOATHOUSE.replace("ladder with", "ladder, by TOBIAS (9), with")
    rest = "\nEXT. QUAY - DAY\n\nTOBIAS\nNow.\n\nNELL\nYes.\n\nTOBIAS\nSo.\n"
    new = old.replace(", by TOBIAS (9),", "").replace("TOBIAS\nCome down.\n", "") + rest.replace("TOBIAS", "ANSELM")
    action = line_of(old, "ladder")
    found = of_scene(old + rest, new, (Change((action,), (action,)),))
    assert found.left == ("ANSELM",)
    assert [one.words for one in found.cautions if one.key == "children"] == [("ANSELM, 9",)]


@pytest.mark.parametrize(
    ("other", "stays"),
    [
        ("INT. BOATHOUSE - DAY", True),
        ("INT. BOATHOUSE - LOFT - DAY", True),
        ("INT. Boathouse -- Loft - DAY", True),
        ("INT. BOATHOUSE\N{HORIZONTAL BAR}LOFT - DAY", True),
        ("INT. BOATHOUSE \N{MINUS SIGN} LOFT - DAY", True),
        ("INT. BOATHOUSE LOFT - DAY", False),
        ("INT. LOFT - DAY", False),
    ],
)
def test_a_cut_scene_s_place_stays_where_any_other_scene_is_played_in_it(other: str, stays: bool) -> None:
    text = f"{other}\n\nNobody.\n"
    comparison = screenplay.compare(BOATHOUSE + "\n" + text, text)
    [found] = concerns(comparison, [ChangedScene(1, None, ())])
    assert (found.place, found.place_stays) == (("BOATHOUSE", ""), stays)


def test_a_cut_scene_s_place_stays_under_its_new_name() -> None:
    text = "INT. BOATHOUSE - DAY\n\nNELL\nOne.\n\nINT. BOATHOUSE - NIGHT\n\nTOBIAS\nTwo of them.\n"
    cut = "INT. BOATHOUSE - DAWN\n\nA third thing altogether.\n\n"
    comparison = screenplay.compare(cut + text, text.replace("BOATHOUSE", "CHANDLERY"))
    [found] = concerns(comparison, [ChangedScene(1, None, ())])
    assert found.place_stays


def test_a_new_scene_has_all_its_cast_come_and_its_place() -> None:
    comparison = screenplay.compare("", BOATHOUSE)
    [found] = concerns(comparison, [ChangedScene(None, 1, ())])
    assert found.place == ("", "BOATHOUSE")
    assert found.light == ("", "night")
    assert found.came == ("NELL", "TOBIAS")


VAN = """INT. VAN - NIGHT

A shotgun lies across the seat.

DENNIS
Lovely spot for it.

"""
SLIPWAY = """EXT. SLIPWAY - DAY

Ola ties the rope.

OLA
There is always a man.
"""


@pytest.mark.parametrize(
    ("new", "own", "came"),
    [
        (SLIPWAY.replace("Ola ties", VAN.split("\n\n", 1)[1] + "Ola ties"), 2, 1),  # folded into the scene that follows
        (VAN + SLIPWAY.split("\n\n", 1)[1], 1, 2),  # its heading deleted
    ],
)
def test_what_a_scene_brings_into_another_came_along_and_is_not_new(new: str, own: int, came: int) -> None:
    comparison = screenplay.compare(VAN + SLIPWAY, new)
    [found] = concerns(comparison, [ChangedScene(own, 1, (), joined=(came,))])
    assert (found.place, found.setting, found.light, found.came) == (None, None, None, ())
    [along] = found.along
    assert (along.scene, along.speakers) == (came, ("DENNIS",) if came == 1 else ("OLA",))
    places, lights = [("VAN", "SLIPWAY"), ("SLIPWAY", "VAN")], [("night", "day"), ("day", "night")]
    assert (along.place, along.light, along.place_stays) == (places[came - 1], lights[came - 1], False)
    [weapons] = (each for each in found.cautions if each.key == "weapons")
    assert (weapons.is_new, weapons.came_with) == (False, 1 if came == 1 else None)


def test_what_another_part_of_a_split_scene_has_is_not_gone() -> None:
    new = (VAN + SLIPWAY).replace("DENNIS\n", "EXT. BANK - NIGHT\n\nDENNIS\n")
    comparison = screenplay.compare(VAN + SLIPWAY, new)
    first, second = concerns(
        comparison, [ChangedScene(1, 1, (), split_into=(2,)), ChangedScene(1, 2, (), split_into=(1,))]
    )
    assert (first.left, second.left) == ((), ())
    assert not any(each.is_over for each in (*first.cautions, *second.cautions))


def test_a_place_that_is_another_by_name_is_told_as_that_one_and_is_no_change_of_it() -> None:
    was = "INT. VILLAGE HALL - DAY\n\nRain.\n\nEXT. QUAY - DAY\n\nWind.\n"
    comparison = screenplay.compare(was, was.replace("INT. VILLAGE", "INT. BRACKWATER - VILLAGE"))
    names = PlaceNames().with_one("BRACKWATER - VILLAGE HALL", "VILLAGE HALL")
    scenes = [ChangedScene(1, 1, ()), ChangedScene(1, 2, ()), ChangedScene(2, 1, ()), ChangedScene(1, None, ())]
    found = concerns(comparison, scenes, names)
    assert [one.place for one in found] == [
        None,
        ("VILLAGE HALL", "QUAY"),
        ("QUAY", "VILLAGE HALL"),
        ("VILLAGE HALL", ""),
    ]
    assert [one.place_stays for one in found] == [True] * 4


def test_a_place_of_several_settings_that_is_still_played_stays_by_the_names_it_goes_by() -> None:
    was = "INT. HALL / EXT. YARD - DAY\n\nRain.\n\nINT. HALL / EXT. YARD - DAY\n\nWind.\n"
    comparison = screenplay.compare(was, was.replace("INT. HALL / EXT. YARD", "INT. QUAY", 1))
    for names, place in (
        (PlaceNames(), "HALL / EXT. YARD"),
        (PlaceNames().with_one("HALL", "VILLAGE HALL"), "VILLAGE HALL / EXT. YARD"),
    ):
        [found] = concerns(comparison, [ChangedScene(1, 1, ())], names)
        assert (found.place, found.place_stays) == ((place, "QUAY"), True)
