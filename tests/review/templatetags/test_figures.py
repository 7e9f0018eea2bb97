"""How figures are written down."""

from __future__ import annotations

import pytest

from review.templatetags.figures import eighths, pages_long, signed
from review.voices.told_figures import percent


@pytest.mark.parametrize(("length", "written"), [(19, "2 3/8"), (8, "1"), (3, "3/8"), (1, "1/8"), (16, "2"), (0, "0")])
def test_lengths_are_written_in_eighths(length: int, written: str) -> None:
    # 2 3/8 is the trade's way to write nineteen eighths of a page (common practice).
    assert eighths(length) == written


@pytest.mark.parametrize(
    ("length", "written"), [(19, "2 3/8 pages"), (9, "1 1/8 pages"), (8, "1 page"), (3, "3/8 page")]
)
def test_a_length_of_up_to_a_page_has_page_in_the_singular(length: int, written: str) -> None:
    assert pages_long(length) == written


@pytest.mark.parametrize(("share", "written"), [(0.256, "26 %"), (1.0, "100 %"), (0.0, "0 %"), (0.0004, "under 1 %")])
def test_a_share_that_is_there_never_reads_as_none(share: float, written: str) -> None:
    assert percent(share) == written


@pytest.mark.parametrize(("difference", "written"), [(3, "+3"), (-3, "−3"), (0, "±0")])
def test_a_difference_has_its_sign(difference: int, written: str) -> None:
    assert signed(difference) == written
