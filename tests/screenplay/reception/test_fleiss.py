"""Fleiss' kappa, and what it means in words."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from screenplay.reception.fleiss import agreement, agreement_in_words, fleiss_kappa

tables = st.integers(2, 6).flatmap(
    lambda raters: st.lists(st.lists(st.integers(0, 3), min_size=raters, max_size=raters), min_size=2, max_size=8)
)


def counted(ratings: list[list[int]]) -> list[list[int]]:
    return [[row.count(category) for category in range(4)] for row in ratings]


def test_full_agreement_is_one() -> None:
    assert fleiss_kappa([[4, 0], [0, 4], [4, 0]]) == 1


def test_of_one_category_there_is_no_figure() -> None:
    assert fleiss_kappa([[4, 0], [4, 0]]) is None


@pytest.mark.parametrize("table", [[[1, 2], [2, 2]], [[1, 0], [0, 1]], []])
def test_each_thing_is_rated_by_as_many_raters_two_at_least(table: list[list[int]]) -> None:
    with pytest.raises(ValueError, match="two at least"):
        fleiss_kappa(table)


@given(tables)
@settings(max_examples=40)
def test_it_is_never_above_one_and_depends_on_no_order(ratings: list[list[int]]) -> None:
    kappa = fleiss_kappa(counted(ratings))
    assert kappa is None or kappa <= 1
    assert fleiss_kappa([row[::-1] for row in counted(ratings)[::-1]]) == pytest.approx(kappa)


def test_it_is_not_told_of_fewer_than_three_readers() -> None:
    two = {"Noor": {1: "clear", 2: "lost"}, "Wick": {1: "clear", 2: "clear"}}
    assert agreement(two).kappa is None
    assert agreement(two).words == ""
    assert agreement({**two, "Ida": {1: "clear", 2: "lost"}}).kappa is not None


def test_it_is_not_told_of_a_single_thing() -> None:
    assert agreement({name: {1: "clear"} for name in ("Noor", "Wick", "Ida")}).kappa is None


def test_the_things_count_that_all_of_them_rated() -> None:
    found = agreement(
        {"Noor": {1: "clear", 2: "lost", 3: "slow"}, "Wick": {1: "clear", 2: "lost"}, "Ida": {1: "clear", 2: "lost"}}
    )
    assert (found.things, found.raters, found.kappa) == (2, 3, 1)


def test_where_all_say_the_same_throughout_it_says_so_in_place_of_a_figure() -> None:
    found = agreement({name: {1: "clear", 2: "clear"} for name in ("Noor", "Wick", "Ida")})
    assert found.kappa is None
    assert found.words == "All 3 say the same throughout."


@pytest.mark.parametrize(
    ("kappa", "words"),
    [(-0.2, "no more than chance would bring about"), (0.43, "by and large"), (0.61, "well"), (1.0, "almost wholly")],
)
def test_it_is_told_in_words(kappa: float, words: str) -> None:
    """The bands of Landis and Koch 1977, Biometrics 33, table on page 165; the words are ours."""
    assert agreement_in_words(kappa) == words
