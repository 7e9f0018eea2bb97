"""Which scenes lose whom."""

from __future__ import annotations

from screenplay.reception import Clarity, SceneMark, SceneMarks, lost_scenes, summary

CLEAR, LOST, SLOW = Clarity.CLEAR, Clarity.LOST, Clarity.SLOW


def scene(name: str, **marks: Clarity | tuple[Clarity, str]) -> SceneMarks:
    told = [(who, each if isinstance(each, tuple) else (each, "")) for who, each in marks.items()]
    return SceneMarks(name, tuple(SceneMark(who, mark, why) for who, (mark, why) in told))


def test_a_scene_loses_readers_where_two_and_a_third_of_them_were_not_held() -> None:
    assert scene("Scene 1", Noor=LOST, Wick=SLOW, Ida=CLEAR).loses
    assert not scene("Scene 1", Noor=LOST, Wick=CLEAR, Ida=CLEAR).loses
    few_of_many = {f"R{n}": CLEAR for n in range(5)} | {"Noor": LOST, "Wick": LOST}
    assert not scene("Scene 1", **few_of_many).loses


def test_those_that_lose_most_come_first_with_what_each_says() -> None:
    found = lost_scenes(
        {
            1: scene("Scene 1", Noor=SLOW, Wick=SLOW, Ida=SLOW),
            2: scene("Scene 2", Noor=CLEAR, Wick=CLEAR),
            3: scene("Scene 3", Noor=(LOST, "Who is calling?"), Wick=(LOST, "calling whom"), Ida=(SLOW, "long")),
        }
    )
    said = [(each.ordinal, [(one.reader, one.why) for one in (*each.lost, *each.slow)]) for each in found]
    assert said == [
        (3, [("Noor", "Who is calling?"), ("Wick", "calling whom"), ("Ida", "long")]),
        (1, [("Ida", ""), ("Noor", ""), ("Wick", "")]),
    ]


def test_it_is_said_in_a_sentence_at_the_top() -> None:
    one = lost_scenes({4: scene("Scene 4", Noor=(LOST, "Whose boat is it?"), Wick=(LOST, "whose boat"), Ida=SLOW)})
    assert summary(one, 3) == (
        "One scene loses readers. Scene 4 loses Noor (“Whose boat is it?”) and Wick (“whose boat”) and is slow for Ida."
        " Most say “boat”."
    )
    four = lost_scenes({n: scene(f"Scene {n}", Noor=LOST, Wick=LOST) for n in range(1, 6)})
    assert summary(four, 2).startswith("Five scenes lose readers. Scene 1 loses Noor and Wick. Scene 2 ")
    assert summary(four, 2).endswith("The other two are below.")
    assert summary((), 3) == "No scene loses two readers or more, of those who marked it."
    assert summary((), 0) == "Nobody has marked a scene yet."


def test_what_most_say_is_said_by_more_than_half_of_those_who_say_why() -> None:
    lost: dict[str, Clarity | tuple[Clarity, str]] = {
        "Ida": (LOST, "Nell’s key, or hers?"),
        "Noor": (LOST, "The key: whose?"),
        "Uma": (SLOW, "Is it a KEY to the shed?"),
        "Wick": LOST,
    }
    assert summary(lost_scenes({1: scene("Scene 1", **lost)}), 4).endswith(" Most say “key”.")
    apart = scene("Scene 1", Noor=(LOST, "The key"), Wick=(LOST, "The shed"))
    assert "Most say" not in summary(lost_scenes({1: apart}), 2)


def test_a_scene_that_was_slow_and_lost_nobody_is_not_counted_as_losing() -> None:
    lost, slow = scene("Scene 1", Noor=LOST, Wick=LOST), scene("Scene 2", Noor=SLOW, Wick=(SLOW, "The song."))
    assert summary(lost_scenes({1: lost, 2: lost, 3: slow}), 2).startswith("Two scenes lose readers, one is slow. ")
    assert summary(lost_scenes({1: lost, 2: slow, 3: slow}), 2).startswith("One scene loses readers, two are slow. ")
    told = summary(lost_scenes({2: slow}), 2)
    assert told == "One scene is slow. Scene 2 is slow for Noor and Wick (“The song”)."
