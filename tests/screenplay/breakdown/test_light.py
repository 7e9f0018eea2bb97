"""When it is light in a scene, by its heading."""

from __future__ import annotations

import pytest

import screenplay
from screenplay import lay_out
from screenplay.breakdown import break_down, lights


@pytest.mark.parametrize("follows", ["CONTINUOUS", "LATER", "SAME", "MOMENTS LATER", "CONT'D", "PLUS TARD", "SPÄTER"])
def test_what_follows_on_takes_its_light_from_the_scene_before(follows: str) -> None:
    """Common practice in the trade."""
    text = f"INT. A - NIGHT\n\nOne.\n\nINT. B - {follows}\n\nTwo.\n\nINT. C - {follows}\n\nThree.\n\nINT. D\n\nFour.\n"
    assert lights(screenplay.parse(text)) == ("night", "night", "night", "")


def test_what_follows_on_looks_past_headings_without_a_time_of_day() -> None:
    """Common practice: the deck is as it was before the camera went under it."""
    text = "EXT. DECK - DAY\n\nOne.\n\n.UNDER THE DECK\n\nTwo.\n\nEXT. DECK - CONTINUOUS\n\nThree.\n"
    assert lights(screenplay.parse(text)) == ("day", "", "day")
    scenes = break_down(lay_out(screenplay.parse(f"{text}\nEXT. DECK - LATER\n\nFour.\n")))
    assert [scene.light_from for scene in scenes] == [None, None, 1, 1]


def test_nothing_follows_on_from_before_a_time_of_day_that_says_no_light() -> None:
    text = "EXT. A - NIGHT\n\nOne.\n\nEXT. B - GOLDEN HOUR\n\nTwo.\n\nEXT. B - CONTINUOUS\n\nThree.\n"
    assert lights(screenplay.parse(text)) == ("night", "", "")


@pytest.mark.parametrize("back", ["CONTINUOUS (BACK TO PRESENT)", "LATER (END OF FLASHBACK)", "SAME - BACK TO SCENE"])
def test_what_goes_on_behind_a_flashback_that_is_over_takes_its_light_from_before_it(back: str) -> None:
    times = ["NIGHT", "DAY (FLASHBACK)", "LATER", back, "CONTINUOUS"]
    script = screenplay.parse("\n\n".join(f"INT. HALL - {time}\n\nRain." for time in times))
    assert lights(script) == ("night", "day", "day", "night", "night")
    assert [scene.light_from for scene in break_down(lay_out(script))] == [None, None, 2, 1, 1]


def test_light_follows_on_into_a_flashback_and_past_a_heading_without_a_time_back_into_the_story() -> None:
    into = "INT. A - NIGHT\n\nOne.\n\nINT. B - CONTINUOUS (FLASHBACK)\n\nTwo.\n\nINT. B - DAY (FLASHBACK)\n\nThree.\n"
    out = "INT. A\n\nFour.\n\nINT. A - CONTINUOUS\n\nFive.\n"
    assert lights(screenplay.parse(f"{into}\n{out}")) == ("night", "night", "day", "", "night")


@pytest.mark.parametrize(
    ("time", "light"),
    [
        *(("MORNING", "day"), ("EVENING", "night"), ("SUNSET", "dusk"), ("DAWN", "dawn"), ("NIGHT - LATER", "night")),
        *(("NUIT", "night"), ("MORGENDÄMMERUNG", "dawn"), ("PUESTA DE SOL", "dusk"), ("POMERIGGIO", "day")),
        *(("DAY 3 - NIGHT", "night"), ("DAY 3 -- NIGHT", "night"), ("DAY 3", "day"), ("JOUR 2 - NUIT", "night")),
        *(("DAY 3 - MORNING", "day"), ("DAY 3 - LATER", "day"), ("NIGHT 2", "night"), ("NIGHT INTO DAY", "night")),
        *(("DAY (FLASHBACK - 1974)", "day"), ("NIGHT (FLASHBACK - 1974)", "night")),
        *(("3 A.M.", "night"), ("3 A.M. - NIGHT", "night"), ("GOLDEN HOUR", ""), ("FIRST LIGHT", "dawn")),
    ],
)
def test_the_words_of_headings_say_when_it_is_light(time: str, light: str) -> None:
    """Common practice in the trade."""
    assert lights(screenplay.parse(f"INT. A - {time}\n\nOne.\n")) == (light,)


@pytest.mark.parametrize(
    ("time", "light"),
    [
        *(("3:15 AM", "night"), ("11 P.M.", "night"), ("12 P.M.", "day"), ("12 A.M.", "night"), ("2 PM", "day")),
        *(("02:30", "night"), ("14:30", "day"), ("22H30", "night"), ("23 UHR", "night"), ("0300 HOURS", "night")),
        *(("3 O'CLOCK", ""), ("6 A.M.", ""), ("6 P.M.", ""), ("ORE 9", "")),
        *(("3 H DU MATIN", "night"), ("LAS TRES DE LA MAÑANA", "night"), ("LE TRE DEL MATTINO", "night")),
        *(("DREI UHR MORGENS", "night"), ("THREE IN THE MORNING", "night"), ("ELEVEN AT NIGHT", "night")),
        *(("NINE IN THE MORNING", "day"), ("LAS CINCO DE LA TARDE", "day"), ("LE DUE DI NOTTE", "night")),
    ],
)
def test_a_time_by_the_clock_says_when_it_is_light_where_it_is_so_all_year(time: str, light: str) -> None:
    """Common practice in the trade: three in the morning is shot at night, whatever its last word."""
    assert lights(screenplay.parse(f"INT. A - {time}\n\nOne.\n")) == (light,)


def test_hours_later_take_their_light_from_the_scene_before() -> None:
    text = "INT. A - NUIT\n\nUn.\n\nINT. B - 2 HEURES PLUS TARD\n\nDeux.\n\nINT. C - DUE ORE DOPO\n\nTre.\n"
    assert lights(screenplay.parse(text)) == ("night", "night", "night")
