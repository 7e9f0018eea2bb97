"""What pages are called once they are locked. A page added after 12 is 12A (common practice in the trade)."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from screenplay.page.page_labels import first_of, labelled, last_of, run_together
from screenplay.page.scene_numbers import reading_order


@pytest.mark.parametrize(
    ("locked", "called"),
    [
        (["12", None, "13"], "12 12A 13"),
        (["12", None, None, "13"], "12 12A 12B 13"),
        (["12", None, "12A", "13"], "12 A12A 12A 13"),
        (["12A", None, "13"], "12A 12B 13"),
        (["12", None], "12 12A"),
        ([None, "1"], "A1 1"),
        ([None, None, "1"], "A1 B1 1"),
        (["11-12", None, "13"], "11-12 12A 13"),
    ],
)
def test_added_pages_are_lettered(locked: list[str | None], called: str) -> None:
    assert labelled([[label] if label else [] for label in locked]) == called.split()


@pytest.mark.parametrize(
    ("labels", "called"),
    [
        (["12", "13"], "12-13"),
        (["12-13", "14"], "12-14"),
        (["12", "12A"], "12-12A"),
        (["12"], "12"),
        (["12-13"], "12-13"),
    ],
)
def test_pages_of_which_nothing_is_left_run_together(labels: list[str], called: str) -> None:
    assert run_together(labels) == called
    assert (first_of(called), last_of(called)) == (first_of(labels[0]), last_of(labels[-1]))


def test_the_last_page_runs_together_with_those_that_have_no_text_behind_it() -> None:
    assert labelled([["11"], []], ["12", "13"]) == ["11", "11A-13"]


@given(st.lists(st.tuples(st.booleans(), st.integers(0, 4)), min_size=1, max_size=12))
def test_labels_are_in_reading_order_and_no_two_are_the_same(kept: list[tuple[bool, int]]) -> None:
    locked: list[list[str]] = []
    for number, (is_kept, added) in enumerate(kept, 1):
        locked += [[str(number)]] * is_kept + [[]] * added
    again = labelled([[label] for label in labelled(locked)])
    for labels in (labelled(locked), again):
        keys = [reading_order(label) for label in labels]
        assert all(before is not None and after is not None and before < after for before, after in pairwise(keys))
