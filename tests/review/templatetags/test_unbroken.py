"""Names that stand on one line."""

from __future__ import annotations

from review.templatetags.unbroken import NO_BREAK, unbroken


def test_a_number_stays_with_its_word_and_the_rest_may_break() -> None:
    assert unbroken("Draft 2, After the 3 readings") == f"Draft{NO_BREAK}2, After the 3 readings"
