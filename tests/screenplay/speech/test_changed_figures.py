"""What changed in how the characters talk."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay import lay_out, parse, voices
from screenplay.speech import voice_changes

if TYPE_CHECKING:
    from screenplay.speech.voice import Voice


def voices_of(text: str) -> tuple[Voice, ...]:
    return voices(lay_out(parse(text)))


def test_figures_that_differ_are_named_and_a_renamed_character_is_the_same() -> None:
    old = voices_of("INT. A - DAY\n\nNELL\nIt's cold.\n\nTOBIAS\nNo.\n")
    new = voices_of("INT. A - DAY\n\nEDIE\nIt is cold.\n\nIRIS\nNo.\n")

    edie, iris, tobias = voice_changes(old, new, {"NELL": "EDIE"})

    assert edie.old
    assert edie.new
    assert (edie.old.name, edie.new.name) == ("NELL", "EDIE")
    assert {"words", "contractions", "not_contracted", "contraction_rate"} <= set(edie.changed)
    assert "questions" not in edie.changed
    assert (iris.old, iris.changed, tobias.new, tobias.changed) == (None, (), None, ())


def test_the_same_text_changed_nothing() -> None:
    same = voices_of("INT. A - DAY\n\nNELL\nIt's cold.\n")
    assert [change.changed for change in voice_changes(same, same, {})] == [()]
