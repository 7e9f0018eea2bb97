"""Agreement of readers against what was published, and against another's computation."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from screenplay.reception.fleiss import fleiss_kappa

# Fleiss 1971, Psychological Bulletin 76, Table 1, told from memory: thirty patients, each diagnosed by six
# psychiatrists as one of depression, personality disorder, schizophrenia, neurosis, other. Its margins are
# checked below.
DIAGNOSES = [
    [0, 0, 0, 6, 0], [0, 3, 0, 0, 3], [0, 1, 4, 0, 1], [0, 0, 0, 0, 6], [0, 3, 0, 3, 0], [2, 0, 4, 0, 0],
    [0, 0, 4, 0, 2], [2, 0, 3, 1, 0], [2, 0, 0, 4, 0], [0, 0, 0, 0, 6], [1, 0, 0, 5, 0], [1, 1, 0, 4, 0],
    [0, 3, 3, 0, 0], [1, 0, 0, 5, 0], [0, 2, 0, 3, 1], [0, 0, 5, 0, 1], [3, 0, 0, 1, 2], [5, 1, 0, 0, 0],
    [0, 2, 0, 4, 0], [1, 0, 2, 0, 3], [0, 0, 0, 0, 6], [0, 1, 0, 5, 0], [0, 2, 0, 1, 3], [2, 0, 0, 4, 0],
    [1, 0, 0, 4, 1], [0, 5, 0, 1, 0], [4, 0, 0, 0, 2], [0, 2, 0, 4, 0], [1, 0, 5, 0, 0], [0, 0, 0, 0, 6],
]  # fmt: skip


def test_it_gives_the_kappa_of_fleiss_s_own_worked_example() -> None:
    """Its margins .144 .144 .167 .306 .239 and its kappa .430, as printed there."""
    shares = [sum(column) / (30 * 6) for column in zip(*DIAGNOSES, strict=True)]
    assert [round(share, 3) for share in shares] == [0.144, 0.144, 0.167, 0.306, 0.239]
    kappa = fleiss_kappa(DIAGNOSES)
    assert kappa is not None
    assert round(kappa, 3) == 0.430


@given(
    st.integers(3, 6).flatmap(
        lambda raters: st.lists(st.lists(st.integers(0, 2), min_size=raters, max_size=raters), min_size=2, max_size=9)
    )
)
@settings(max_examples=40)
def test_it_gives_what_statsmodels_gives(ratings: list[list[int]]) -> None:
    from statsmodels.stats.inter_rater import fleiss_kappa as peer  # a second of work

    table = [[row.count(category) for category in range(3)] for row in ratings]
    ours = fleiss_kappa(table)
    if ours is not None:
        assert ours == pytest.approx(peer(np.array(table), method="fleiss"))
