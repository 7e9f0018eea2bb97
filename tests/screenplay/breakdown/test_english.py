"""Whether a script reads as English. Source: two public-domain plays (see tests/plays.py), the demo, and sentences of
our own in other languages."""

from __future__ import annotations

from pathlib import Path

import pytest

from review import demo
from screenplay import parse
from screenplay.breakdown import reads_as_english
from tests.plays import PLAYS, play_as_fountain

FRENCH = "Un enfant de six ans joue avec un couteau. Sa mère crie. Il court sur les tuiles et tombe dans le vide. "
GERMAN = "Ein Kind, sechs Jahre, spielt mit einem Messer. Er springt vom Dach, ein Pferd scheut, Schüsse fallen. "
DUTCH = "Het kind is zes en speelt met een mes. Hij springt van het dak in de gracht, een paard schrikt op. "


@pytest.mark.parametrize("action", [FRENCH, GERMAN, DUTCH])
def test_other_languages_do_not(action: str) -> None:
    assert not reads_as_english(parse(f"INT. A - DAY\n\n{action * 4}\n"))


def test_english_does_down_to_the_directions_of_old_plays() -> None:
    texts = [Path(demo.__file__).with_name("first-draft.fountain").read_text("utf-8"), *map(play_as_fountain, PLAYS)]
    assert all(reads_as_english(parse(text)) for text in texts)


def test_a_script_too_short_to_say_is_taken_for_english() -> None:
    assert reads_as_english(parse(f"INT. A - DAY\n\n{GERMAN}\n"))
    assert reads_as_english(parse(""))
