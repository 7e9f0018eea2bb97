"""A character's part."""

from __future__ import annotations

from screenplay import Kind, parse
from screenplay.speech.part import LineBefore, PartSpeech, part_speeches, silent_scenes

SCRIPT = """INT. A - DAY

NELL (O.S.)
(low)
No.

Rain.
Wind.

NELL
Yes.

TOBIAS
Who?
(beat)

NELL
I.

INT. B - DAY

@Nell
Gone.
"""


def test_each_speech_stands_with_its_scene_and_what_comes_before_it() -> None:
    assert part_speeches(parse(SCRIPT), "nell") == (
        PartSpeech(1, 3, ("O.S.",), ((Kind.PARENTHETICAL, "(low)"), (Kind.DIALOGUE, "No.")), None),
        PartSpeech(1, 10, (), ((Kind.DIALOGUE, "Yes."),), LineBefore("", 8, "Wind.")),
        PartSpeech(1, 17, (), ((Kind.DIALOGUE, "I."),), LineBefore("TOBIAS", 14, "Who?")),
        PartSpeech(2, 22, (), ((Kind.DIALOGUE, "Gone."),), None),
    )


def test_two_who_speak_at_once_are_told_so_and_neither_stands_before_the_other() -> None:
    script = parse("INT. A - DAY\n\nRain.\n\nNELL\nYes.\n\nTOBIAS ^\nNo.\n\nNELL\nWell.\n")
    rain = LineBefore("", 3, "Rain.")
    assert part_speeches(script, "TOBIAS") == (PartSpeech(1, 8, (), ((Kind.DIALOGUE, "No."),), rain, "NELL"),)
    assert part_speeches(script, "NELL") == (
        PartSpeech(1, 5, (), ((Kind.DIALOGUE, "Yes."),), rain, "TOBIAS"),
        PartSpeech(1, 11, (), ((Kind.DIALOGUE, "Well."),), LineBefore("TOBIAS", 9, "No.")),
    )


def test_scenes_that_name_somebody_who_says_nothing_there_are_silent() -> None:
    script = parse(
        "INT. A - DAY\n\nNell waits.\n\nINT. B - DAY\n\nNell.\n\nNELL\nYes.\n\nINT. C - DAY\n\nNELL sleeps.\n"
    )
    assert silent_scenes(script, "NELL") == (1, 3)


def test_nobody_of_the_name_has_no_part() -> None:
    assert part_speeches(parse(SCRIPT), "IRIS") == ()
