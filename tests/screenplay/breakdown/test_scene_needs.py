"""What each scene needs, counted by hand."""

from __future__ import annotations

import pytest

from screenplay import lay_out, parse
from screenplay.breakdown import SceneNeeds, break_down, by_cast, by_light, by_place, needs_changes
from screenplay.script import words_sung_alone

SCRIPT = """INT. FERRY - ENGINE ROOM - NIGHT #4#

Mara lights a match. JOREN watches.

MARA
(low)
It won't hold.
~Row, row

INT. FERRY – DECK - CONTINUOUS

JOREN
Well?

EXT. QUAY - LATER

Rain.

INT. Ferry

MARA (V.O.)
Dawn.

EXT. QUAY - DAWN

Gulls.
"""


def needs_of(text: str = SCRIPT) -> tuple[SceneNeeds, ...]:
    return break_down(lay_out(parse(text)))


def test_a_scene_by_hand() -> None:
    first = needs_of()[0]
    assert (first.number, first.setting, first.place, first.place_within) == ("4", "INT.", "FERRY", "ENGINE ROOM")
    assert (first.time, first.light, first.light_from) == ("NIGHT", "night", None)
    assert (first.speaking, first.mentioned) == (("MARA",), ("JOREN",))
    assert (first.dialogue_words, first.action_words) == (5, 7)  # won't is one; (low) is told, not said
    assert (first.page, first.eighths, first.seconds) == (1, 1, 8)  # ten rows of 54, and 7.5 seconds
    assert [(find.key, find.line) for find in first.cautions] == [("water", 1), ("fire", 3)]


def test_continuous_and_its_like_take_day_or_night_from_the_scene_whose_heading_says_it() -> None:
    assert [(scene.light, scene.light_from) for scene in needs_of()] == [
        ("night", None),
        ("night", 1),
        ("night", 1),
        ("", None),
        ("dawn", None),
    ]


def test_one_place_in_two_spellings_is_one() -> None:
    groups = [(group.name, group.scenes) for group in by_place(needs_of())]
    assert groups == [("FERRY", (1, 2, 4)), ("QUAY", (3, 5))]


@pytest.mark.parametrize(
    ("heading", "places"),
    [
        (
            "INT. PHONE BOX / INT. TAMSIN'S COTTAGE - KITCHEN - INTERCUT - NIGHT",
            [("PHONE BOX", ""), ("TAMSIN'S COTTAGE", "KITCHEN")],
        ),
        ("INT. PHONE BOX - NIGHT / EXT. QUAY - NIGHT", [("PHONE BOX", ""), ("QUAY", "")]),
        ("INT. PHONE BOX - INTERCUT WITH EXT. QUAY - STEPS - DAY", [("PHONE BOX", ""), ("QUAY", "STEPS")]),
        ("INT. FERRY - BRIDGE / INT. FERRY - HOLD - DAY", [("FERRY", "BRIDGE")]),
        ("INT./EXT. CAR - DAY", [("CAR", "")]),
        ("INT. HALL/INTERVIEW ROOM - DAY", [("HALL/INTERVIEW ROOM", "")]),
    ],
)
def test_a_heading_of_several_settings_has_a_place_for_each(heading: str, places: list[tuple[str, str]]) -> None:
    (scene,) = needs_of(f"{heading}\n\nRain.\n")
    assert [(place.name, place.within) for place in scene.places] == places
    assert {group.name for group in by_place([scene])} == {name for name, _ in places}


@pytest.mark.parametrize(
    ("typed", "within"),
    [("FERRY (FLASHBACK - 1974)", "(FLASHBACK - 1974)"), ("FERRY (MOVING) - HOLD", "(MOVING) - HOLD"), ("FERRY", "")],
)
def test_what_stands_in_parentheses_is_no_part_of_a_place_s_name(typed: str, within: str) -> None:
    (scene,) = needs_of(f"EXT. {typed} - DAY\n\nRain.\n")
    assert (scene.place, scene.place_within, scene.place_typed) == ("FERRY", within, typed)


def test_cast_and_light_have_their_scenes_and_lengths() -> None:
    scenes = needs_of()
    assert {group.name: group.scenes for group in by_cast(scenes)} == {"MARA": (1,), "JOREN": (1, 2)}
    assert [(group.name, group.scenes) for group in by_light(scenes)] == [
        ("night", (1, 2, 3)),
        ("dawn", (5,)),
        ("", (4,)),
    ]
    assert sum(group.eighths for group in by_light(scenes)) == sum(scene.eighths for scene in scenes)


WAYS = """INT. SHED - DAY

Desmond's cap on its hook. Ilse looks at it.

NELL
So.

INT. KITCHEN - DAY

Nell eats.

DESMOND (V.O.)
Let her eat.

INT. YARD - DAY

Desmond shuts his eyes.

DESMOND (V.O.)
I was young.

DESMOND (O.S.)
Once.

ILSE (VOICE-OVER)
Once!
"""


def test_a_voice_over_is_a_voice_alone_unless_action_shows_who_it_is() -> None:
    scenes = needs_of(WAYS)
    assert [(one.speaking_there, one.mentioned, one.heard) for one in scenes] == [
        (("NELL",), ("ILSE",), ()),
        ((), ("NELL",), ("DESMOND",)),
        (("DESMOND",), (), ("ILSE",)),
    ]
    assert {group.name: (group.scenes, group.named, group.heard) for group in by_cast(scenes)} == {
        "NELL": ((1, 2), (2,), ()),
        "ILSE": ((1,), (1,), (3,)),
        "DESMOND": ((3,), (), (2,)),
    }


def test_who_is_but_a_voice_comes_last_and_is_in_no_scene() -> None:
    groups = by_cast(needs_of("INT. A - DAY\n\nABE (V.O.)\nOne.\n\nZOE\nTwo.\n"))
    assert [(group.name, group.scenes, group.eighths, group.heard) for group in groups] == [
        ("ZOE", (1,), 1, ()),
        ("ABE", (), 0, (1,)),
    ]


def test_what_is_sung_under_no_cue_is_counted_as_sung() -> None:
    scene = "INT. A - DAY\n\nHe sings.\n\n~Blue is the bird\n~And blue the bell\n\nNELL\nWell.\n"
    assert [(one.dialogue_words, one.action_words) for one in needs_of(scene)] == [(9, 2)]
    assert words_sung_alone(parse(scene)) == 8
    assert words_sung_alone(parse(SCRIPT)) == 0  # what stands under a cue is somebody's


@pytest.mark.parametrize("text", ["", "Rain.\n", "MARA\nNo.\n"])
def test_a_script_without_scenes_has_no_breakdown(text: str) -> None:
    assert needs_of(text) == ()


def test_what_differs_between_two_drafts_is_named() -> None:
    old, new = needs_of(), needs_of(SCRIPT.replace("a match", "a lamp").replace("QUAY - DAWN", "QUAY - DAY"))
    changes = needs_changes(old, new, [(1, 1), (2, 2), (3, None), (5, 5)])
    assert [change.changed for change in changes] == [("cautions", "department_words"), (), (), ("time", "light")]
    assert changes[2].new is None
