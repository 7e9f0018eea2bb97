"""What holds for every heading there is, also for one that a writer has not typed to its end."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from screenplay import lay_out, parse
from screenplay.breakdown import SceneNeeds, break_down, cautions_of
from screenplay.fountain import setting_fields
from screenplay.script import headings_of

BEFORE = ["", "INT. KITCHEN - DAY\n\nAda.\n\nEXT. STREET - NIGHT\n\nMilo.\n\n"]
STARTS = ["", ".", ".INTERCUT ", ".INTERCUT: ", ".INTERCUT BETWEEN ", ".INTERCUT / "]
SETTINGS = ["INT. ", "EXT. ", "INT./EXT. ", "INT. / EXT. ", "I/E. ", "EST. ", "int ", ""]
PLACES = ["", "", "KITCHEN", "STREET - STEPS", "VAN (MOVING - FAST)", "(", ")"]
TIMES = ["", "", " - DAY", " - NIGHT", "-NIGHT", " (NIGHT)", " - CONTINUOUS", " - INTERCUT", ". DAWN"]
SEPARATORS = [" / ", "/", " AND ", ", ", " - ", " – INTERCUT WITH ", ": ", " ", ""]

chosen = st.tuples(*map(st.sampled_from, (SETTINGS, PLACES, TIMES, SEPARATORS))).map("".join)
headings = st.tuples(st.sampled_from(STARTS), st.lists(chosen, min_size=1, max_size=4)).map(
    lambda typed: typed[0] + "".join(typed[1])
)


@settings(max_examples=60)
@given(st.sampled_from(BEFORE), st.lists(headings, min_size=1, max_size=5))
def test_every_scene_has_a_place_whatever_its_heading(before: str, typed: list[str]) -> None:
    script = parse(before + "".join(f"{heading}\n\nShe jumps.\n\n" for heading in typed))
    scenes = break_down(lay_out(script))

    assert len(scenes) == len(headings_of(script))
    assert len(cautions_of(script)) == len(scenes) + 1  # and what stands before the first
    assert all(scene.places and scene.lights for scene in scenes)


def scene_of(heading: str) -> SceneNeeds:
    (scene,) = break_down(lay_out(parse(f"{heading}\n\nShe jumps.\n")))
    return scene


@pytest.mark.parametrize(
    ("heading", "setting", "lights"),
    [
        ("INT. - DAY / EXT. - NIGHT", "INT.", ("day", "night")),
        ("EXT. - NIGHT / INT. - NIGHT", "EXT.", ("night",)),
        ("INT. , EXT. - DAWN", "INT.", ("dawn",)),
        ("INT. , EXT.", "INT.", ("",)),
        ("EXT. AND EXT.", "EXT.", ("",)),
        (".INTERCUT BETWEEN INT. AND EXT.", "", ("",)),
        (".INTERCUT: INT. / EXT. - NIGHT", "", ("night",)),
        (".INTERCUT: INT. - DAY / EXT. - NIGHT", "", ("day", "night")),
        (".INTERCUT / INT.", "", ("",)),
    ],
)
def test_a_heading_whose_places_are_still_to_be_named_keeps_its_setting_and_its_light(
    heading: str, setting: str, lights: tuple[str, ...]
) -> None:
    scene = scene_of(heading)
    assert [place.name for place in scene.places] == [""]
    assert (scene.setting, scene.lights) == (setting, lights)
    assert [find.key for find in scene.cautions] == [find.key for find in scene_of("INT. ROOM").cautions]


def test_settings_without_a_place_are_told_apart_by_their_times_alone() -> None:
    assert [(each.setting, each.time) for each in setting_fields("DAY / EXT.")] == [("", "DAY"), ("EXT.", "")]
    assert [tuple(each) for each in setting_fields("AND EXT.")] == [("", "", "", "")]
    assert [tuple(each) for each in setting_fields("FERRY / EXT.")] == [("", "FERRY", "", "")]
