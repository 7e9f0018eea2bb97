"""When it is light in a scene, by its heading."""

from __future__ import annotations

import pytest

import screenplay
from screenplay.breakdown import lights


@pytest.mark.parametrize("follows", ["CONTINUOUS", "LATER", "SAME", "MOMENTS LATER", "CONT'D", "PLUS TARD", "SPÄTER"])
def test_what_follows_on_takes_its_light_from_the_scene_before(follows: str) -> None:
    """Common practice in the trade."""
    text = f"INT. A - NIGHT\n\nOne.\n\nINT. B - {follows}\n\nTwo.\n\nINT. C - {follows}\n\nThree.\n\nINT. D\n\nFour.\n"
    assert lights(screenplay.parse(text)) == ("night", "night", "night", "")


@pytest.mark.parametrize(
    ("time", "light"),
    [
        *(("MORNING", "day"), ("EVENING", "night"), ("SUNSET", "dusk"), ("DAWN", "dawn"), ("NIGHT - LATER", "night")),
        *(("NUIT", "night"), ("MORGENDÄMMERUNG", "dawn"), ("PUESTA DE SOL", "dusk"), ("POMERIGGIO", "day")),
        *(("3 A.M.", ""), ("3 A.M. - NIGHT", "night"), ("GOLDEN HOUR", ""), ("FIRST LIGHT", "dawn")),
    ],
)
def test_the_words_of_headings_say_when_it_is_light(time: str, light: str) -> None:
    """Common practice in the trade."""
    assert lights(screenplay.parse(f"INT. A - {time}\n\nOne.\n")) == (light,)
