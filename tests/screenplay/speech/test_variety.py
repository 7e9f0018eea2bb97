"""How varied words are, by hand."""

from __future__ import annotations

import pytest

from screenplay.speech.variety import mtld


def test_a_stretch_ends_where_the_share_of_different_words_falls_to_the_factor_size() -> None:
    # a b a: 2 of 3 is under 0.72, one stretch, and so backwards. Each way two stretches of three words.
    assert mtld(["a", "b", "a", "c", "d", "c"]) == pytest.approx(3.0)


def test_what_is_left_at_the_end_counts_for_a_part() -> None:
    # a b c d a: 4 of 5 are different, which is 0.2 of the 0.28 on the way.
    assert mtld(["a", "b", "c", "d", "a"]) == pytest.approx(5 / (0.2 / 0.28))


@pytest.mark.parametrize("words", [[], ["a"], ["a", "b", "c"]])
def test_words_of_which_none_comes_again_have_no_measure(words: list[str]) -> None:
    assert mtld(words) is None
