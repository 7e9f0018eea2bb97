"""Whether an answer takes from the pages what its writer meant."""

from __future__ import annotations

import pytest

from screenplay.reception import Verdict, verdict_of_choice, verdict_on_scale


def test_of_several_answers_the_intended_one_came_across() -> None:
    assert verdict_of_choice("The tide", "The tide") == Verdict.CAME_ACROSS
    assert verdict_of_choice("The skiff", "The tide") == Verdict.MISSED


@pytest.mark.parametrize(
    ("given", "verdict"), [(4, Verdict.CAME_ACROSS), (3, Verdict.PARTLY), (5, Verdict.PARTLY), (2, Verdict.MISSED)]
)
def test_on_a_scale_one_beside_what_was_meant_came_across_partly(given: int, verdict: Verdict) -> None:
    assert verdict_on_scale(given, 4) == verdict
