"""Words that set a voice apart."""

from __future__ import annotations

from collections import Counter

from screenplay.speech.distinctive import distinctive_words, weighted_log_odds

NELL = Counter({"so": 30, "tide": 12, "the": 60, "once": 1})
OTHERS = Counter({"so": 30, "the": 120, "no": 200})


def test_what_one_says_and_the_others_do_not_comes_first() -> None:
    together = NELL + OTHERS
    found = distinctive_words(NELL, together, together.total())
    assert [(one.word, one.times, one.by_others) for one in found] == [
        ("tide", 12, 0),
        ("so", 30, 30),
        ("the", 60, 120),
    ]
    assert found[0].z > found[1].z > found[2].z > 1.96


def test_both_sides_alike_have_no_distinctive_word() -> None:
    assert distinctive_words(NELL, NELL + NELL, 2 * NELL.total()) == ()
    assert weighted_log_odds(5, 5, 10.0, 100, 100) == 0


def test_a_word_said_twice_is_left_out() -> None:
    own = Counter({"tide": 2, "so": 10})
    together = own + Counter({"so": 900})
    assert distinctive_words(own, together, together.total()) == ()
