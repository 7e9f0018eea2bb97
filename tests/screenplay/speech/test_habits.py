"""How speeches begin, and to whom they are said."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay import lay_out, parse, voices
from screenplay.speech.habits import Opening, SpokenTo

if TYPE_CHECKING:
    from screenplay.speech.voice import Voice


def voices_of(text: str) -> dict[str, Voice]:
    return {voice.name: voice for voice in voices(lay_out(parse(text)))}


def test_a_speech_is_said_to_whoever_else_spoke_last_in_the_scene() -> None:
    found = voices_of(
        "INT. A - DAY\n\nNELL\nOne two.\n\nTOBIAS\nThree.\n\nNELL\nFour.\n\nShe waits.\n\nNELL\nFive.\n\nIRIS\nSix.\n"
        "\nINT. B - DAY\n\nIRIS\nAlone now.\n"
    )
    assert found["NELL"].speaks_to == (SpokenTo("TOBIAS", 3, 4),)  # the first to whoever speaks next
    assert found["TOBIAS"].speaks_to == (SpokenTo("NELL", 1, 1),)
    assert found["IRIS"].speaks_to == (SpokenTo("NELL", 1, 1),)


def test_openings_are_told_from_three_on_and_with_two_words_where_those_come_as_often() -> None:
    said = ["I know.", "I know that.", "I KNOW you.", "I see.", "Well, no.", "Well, yes.", "Well."]
    nell = voices_of("\n\n".join(f"NELL\n{each}" for each in said))["NELL"]
    assert nell.favourite_openings == (Opening("i", 4), Opening("i know", 3), Opening("well", 3))
