"""What is said beside cautions: what they are worth, and who looks first; the same everywhere."""

from __future__ import annotations

from pathlib import Path

from screenplay.breakdown import ASSESS_FIRST, CAUTION_SENSE

PROJECT = Path(__file__).parents[3]
SAID_WITH = ("screenplay/**/*.py", "review/**/*.py", "templates/**/*.html", "static/js/*.js")


def test_it_takes_nothing_for_safe_and_sends_to_those_who_know() -> None:
    for sense in ("found by a list of words", "not a risk assessment", "can miss things", ASSESS_FIRST):
        assert sense in CAUTION_SENSE
    for sense in ("A competent person must assess the work", "local law, codes, permits and licensed practice"):
        assert sense in ASSESS_FIRST


def test_no_other_place_has_words_of_its_own_for_it() -> None:
    found = [path for pattern in SAID_WITH for path in PROJECT.glob(pattern) if "licensed practice" in path.read_text()]
    assert [path.name for path in found] == ["caution_sense.py"]
