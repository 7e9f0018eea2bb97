"""Hot lines."""

from __future__ import annotations

from screenplay.reception import HotLines, LinesRead, hot_lines


def test_lines_are_hot_where_three_readers_meet() -> None:
    said = [LinesRead("Noor", 4, 9), LinesRead("Wick", 6, 7), LinesRead("Ida", 7, 8), LinesRead("Pim", 20, 20)]
    assert hot_lines(said) == (HotLines(7, 7, ("Ida", "Noor", "Wick")),)


def test_a_reader_counts_once_for_a_line() -> None:
    assert hot_lines([LinesRead("Noor", 4, 4)] * 3 + [LinesRead("Wick", 4, 4)]) == ()


def test_lines_that_follow_each_other_are_told_together() -> None:
    said = [LinesRead(who, 4, 5) for who in ("Noor", "Wick", "Ida")]
    said += [LinesRead(who, 6, 6) for who in ("Noor", "Wick", "Pim")] + [
        LinesRead(who, 9, 9) for who in ("A", "B", "C")
    ]
    assert hot_lines(said) == (HotLines(4, 6, ("Ida", "Noor", "Pim", "Wick")), HotLines(9, 9, ("A", "B", "C")))
