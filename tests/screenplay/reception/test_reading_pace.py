"""How long a scene took, beside the reader's own usual pace."""

from __future__ import annotations

import pytest

from screenplay.reception import slow_factors


def test_it_is_measured_against_the_reader_s_own_pace() -> None:
    """By hand: 10, 10 and 30 seconds an eighth; the median is 10."""
    assert slow_factors({1: 80, 2: 40, 3: 60}, {1: 8, 2: 4, 3: 2}) == pytest.approx({1: 1, 2: 1, 3: 3})


def test_of_fewer_than_three_scenes_nothing_is_told() -> None:
    assert slow_factors({1: 80, 2: 40, 9: 5}, {1: 8, 2: 4}) == {}
