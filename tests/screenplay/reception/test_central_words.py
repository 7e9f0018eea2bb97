"""What most of them say."""

from __future__ import annotations

from screenplay.reception.central_words import said_by_most


def test_it_is_the_saying_that_stands_nearest_to_all() -> None:
    assert said_by_most(["The music?", "Who took the key?", "the key, who has it", "lost the key"]) == "lost the key"


def test_of_sayings_with_nothing_in_common_the_shortest_is_told() -> None:
    assert said_by_most(["A very long thought", "Why?", ""]) == "Why?"
    assert said_by_most([]) == ""
