"""What keeps its order, held against trying every choice there is."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from screenplay.comparing.ordering import in_order

weighted = st.lists(st.tuples(st.integers(0, 6), st.integers(1, 4)), max_size=8)


def heaviest(things: list[tuple[int, int]], *, may_share: bool) -> int:
    """The most that any choice of these weighs whose places rise."""
    choices = (chosen for count in range(len(things) + 1) for chosen in combinations(things, count))
    return max(
        sum(weight for _, weight in chosen)
        for chosen in choices
        if all(one[0] < other[0] or (may_share and one[0] == other[0]) for one, other in pairwise(chosen))
    )


@given(weighted, st.booleans())
def test_no_choice_in_order_weighs_more(things: list[tuple[int, int]], may_share: bool) -> None:
    places, weights = [place for place, _ in things], [weight for _, weight in things]
    chain = in_order(places, weights, may_share=may_share)

    assert chain == sorted(set(chain))
    assert all(places[a] < places[b] or (may_share and places[a] == places[b]) for a, b in pairwise(chain))
    assert sum(weights[at] for at in chain) == heaviest(things, may_share=may_share)


@pytest.mark.parametrize(
    ("places", "chain"), [([], []), ([3, 1, 2], [1, 2]), ([1, 5, 2, 3], [0, 2, 3]), ([2, 2, 2], [2])]
)
def test_without_weights_most_of_them_stay(places: list[int], chain: list[int]) -> None:
    assert in_order(places) == chain
    assert len(in_order(places, may_share=True)) >= len(chain)
