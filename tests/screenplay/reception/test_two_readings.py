"""Whether scenes that lost readers hold them in the next reading."""

from __future__ import annotations

from screenplay.reception import Clarity, SceneMark, hold_between, hold_summary

CLEAR, LOST, SLOW = Clarity.CLEAR, Clarity.LOST, Clarity.SLOW


def marks(**said: Clarity) -> list[SceneMark]:
    return [SceneMark(who, mark) for who, mark in said.items()]


def test_a_scene_is_told_by_the_same_readers_and_by_fresh_ones() -> None:
    then, now = marks(Noor=LOST, Wick=CLEAR, Pim=LOST), marks(Noor=CLEAR, Wick=CLEAR, Ida=CLEAR, Rue=SLOW)
    found = hold_between(then, now)
    assert (found.was_held, found.was_marked, found.is_held, found.is_marked) == (1, 3, 3, 4)
    assert found.same == (("Noor", True),)
    assert (found.fresh_held, found.fresh_marked) == (1, 2)
    assert found.verdict == "holds better"
    assert hold_between(now, then).verdict == "loses more"
    assert hold_between(then, ()).verdict == "not read in both"
    assert hold_between(then, (), is_cut=True).verdict == "cut"
    assert hold_between(then, then).verdict == "as it was"


def test_what_became_of_them_is_said_in_a_sentence() -> None:
    lost, held = marks(Noor=LOST, Wick=LOST), marks(Noor=CLEAR, Wick=CLEAR)
    holds = [hold_between(lost, held), hold_between(lost, held), hold_between(lost, (), is_cut=True)]
    assert hold_summary(holds) == "Of 3 scenes that lost readers, 2 hold better, 1 is cut."
    assert hold_summary([hold_between(lost, lost)]) == "Of the one scene that lost readers, 1 is as it was."
    assert hold_summary([]) == "No scene lost two readers or more in the first of the two."
