"""The form and the order of a locked script's scene numbers, and the one that goes between two others.

5A between 5 and 6, and A1 before 1, are common practice in the trade; that AA follows A where there is no room, and
that I and O are left out, is from memory.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from screenplay.page.scene_numbers import is_between, number_between, reading_order, same_number


@pytest.mark.parametrize(
    ("before", "after", "taken", "number"),
    [
        ("5", "6", (), "5A"),
        ("5A", "6", (), "5B"),
        ("5", "6", ("5A",), "5B"),
        (None, "1", (), "A1"),
        ("A1", "1", (), "B1"),
        (None, "A1", (), "AA1"),
        ("5", "5A", (), "A5A"),
        ("A5A", "5A", (), "B5A"),
        ("5A", "5B", (), "5AA"),
        ("5AA", "5B", (), "5AB"),
        ("5A", "5AA", (), "A5AA"),
        ("5H", "6", (), "5J"),
        ("5N", "6", (), "5P"),
        ("5Z", "6", (), "5ZA"),
        ("120", None, (), "120A"),
        ("9", "5", (), "9A"),
        ("1-2", "3", (), "1-2A"),
        ("5a", "6", (), "5B"),
        (None, None, (), "1A"),
    ],
)
def test_a_scene_added_between_two_is_lettered(
    before: str | None, after: str | None, taken: tuple[str, ...], number: str
) -> None:
    assert number_between(before, after, taken) == number


def test_numbers_sort_as_they_are_read() -> None:
    read = ["A1", "AB1", "B1", "1", "A1A", "B1A", "1A", "1AA", "1AB", "1B", "2", "10"]
    assert sorted(read[5:] + read[:5], key=lambda number: reading_order(number) or (0, "", "")) == read


def test_a_number_that_is_not_digits_and_letters_has_no_place_of_its_own() -> None:
    assert reading_order("1-2") is None
    assert is_between("1-2", "5", "6")


PLACES = st.lists(st.integers(0, 10_000), max_size=60)


@settings(max_examples=60)
@given(st.integers(0, 4), PLACES)
def test_however_many_are_added_anywhere_each_is_new_and_stands_between_its_neighbours(
    counted: int, places: list[int]
) -> None:
    numbers = [str(number) for number in range(1, counted + 1)] or ["1"]
    for place in places:
        at = place % (len(numbers) + 1)
        before, after = numbers[at - 1] if at else None, numbers[at] if at < len(numbers) else None
        number = number_between(before, after, {same_number(number) for number in numbers})
        assert number not in numbers
        assert is_between(number, before, after)
        numbers.insert(at, number)
    assert sorted(numbers, key=lambda number: reading_order(number) or (0, "", "")) == numbers


@settings(max_examples=60)
@given(st.integers(0, 1), st.integers(1, 120))
def test_there_is_room_at_one_place_for_ever(side: int, times: int) -> None:
    """Always just before, or just after, the one added last."""
    low, high = "5", "5A"
    for _ in range(times):
        number = number_between(low, high, {same_number(low), same_number(high)})
        assert is_between(number, low, high)
        low, high = (number, high) if side else (low, number)


@given(st.sampled_from(["5", "5A", "A5", "1-2"]), st.integers(0, 60))
def test_a_number_that_is_taken_is_passed_over(before: str, times: int) -> None:
    taken: set[str] = set()
    for _ in range(times):
        taken.add(same_number(number_between(before, None, taken)))
    assert len(taken) == times
