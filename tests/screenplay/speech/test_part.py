"""A character's part."""

from __future__ import annotations

from screenplay import Kind, parse
from screenplay.speech.part import LineBefore, PartSpeech, part_speeches

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


def test_nobody_of_the_name_has_no_part() -> None:
    assert part_speeches(parse(SCRIPT), "IRIS") == ()
