"""Whether scenes that lost readers hold them in the next reading."""

from __future__ import annotations

from screenplay.reception import Clarity, SceneMark, hold_summary, scene_hold, worst_of_each

CLEAR, LOST, SLOW = Clarity.CLEAR, Clarity.LOST, Clarity.SLOW


def marks(**said: Clarity) -> list[SceneMark]:
    return [SceneMark(who, mark) for who, mark in said.items()]


def test_a_scene_is_told_by_the_same_readers_and_by_fresh_ones() -> None:
    then, now = marks(Noor=LOST, Wick=CLEAR, Pim=LOST), marks(Noor=CLEAR, Wick=CLEAR, Ida=CLEAR, Rue=SLOW)
    found = scene_hold(then, now)
    assert (found.was_held, found.was_marked, found.is_held, found.is_marked) == (1, 3, 3, 4)
    assert found.same == (("Noor", True),)
    assert (found.fresh_held, found.fresh_marked) == (1, 2)
    assert found.verdict == "holds better"
    assert scene_hold(now, then).verdict == "loses more"
    assert scene_hold(then, ()).verdict == "not read in both"
    assert scene_hold(then, (), is_cut=True).verdict == "cut"
    assert scene_hold(then, then).verdict == "as it was"


def test_what_became_of_them_is_said_in_a_sentence() -> None:
    lost, held = marks(Noor=LOST, Wick=LOST), marks(Noor=CLEAR, Wick=CLEAR)
    holds = [scene_hold(lost, held), scene_hold(lost, held), scene_hold(lost, (), is_cut=True)]
    assert hold_summary(holds) == "Of 3 scenes that lost readers, 2 hold better, 1 is cut."
    assert hold_summary([scene_hold(lost, lost)]) == "Of the one scene that lost readers, 1 is as it was."
    assert hold_summary([]) == "No scene lost two readers or more in the first of the two."


def test_those_that_lose_readers_only_now_are_counted() -> None:
    lost = [scene_hold(marks(Noor=LOST, Wick=LOST), marks(Noor=CLEAR, Wick=CLEAR))]
    assert hold_summary(lost, 1) == "Of the one scene that lost readers, 1 holds better. 1 other loses them now."
    assert hold_summary(lost, 3).endswith("holds better. 3 others lose them now.")
    assert hold_summary([], 2) == "No scene lost two readers or more in the first of the two. 2 lose them now."


def test_a_scene_that_is_several_now_holds_those_alone_whom_all_its_parts_hold() -> None:
    then = marks(Noor=SLOW, Wick=LOST, Pim=SLOW)
    now = worst_of_each([marks(Noor=CLEAR, Wick=CLEAR, Pim=LOST), marks(Noor=SLOW, Wick=CLEAR, Pim=SLOW)])
    found = scene_hold(then, now)
    assert found.same == (("Noor", False), ("Pim", False), ("Wick", True))
    assert (found.is_held, found.is_marked) == (1, 3)
    assert {each.reader: each.mark for each in now} == {"Noor": SLOW, "Wick": CLEAR, "Pim": LOST}


def test_a_scene_that_the_first_had_not_is_new() -> None:
    assert scene_hold((), marks(Noor=CLEAR), is_new=True).verdict == "new"
