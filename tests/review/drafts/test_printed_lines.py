"""What a note quotes, as it reaches the page."""

from __future__ import annotations

import pytest

from review.drafts.printed_lines import printed_quote


@pytest.mark.parametrize(
    ("words", "printed"),
    [
        ("*Mara* waits [[why?]]", "Mara waits"),
        ("[[why?]]", "[[why?]]"),  # none of it is printed: as it is typed
        ("[[why?]]\nMara waits.", "Mara waits."),
        ("# Act two", "# Act two"),  # within a line it is no section
    ],
)
def test_words_within_a_line_are_quoted_without_what_stands_in_for_its_beginning(words: str, printed: str) -> None:
    assert printed_quote(words, begins_a_line=False) == printed
