"""What a note quotes, as it reaches the page."""

from __future__ import annotations

import pytest

from review.drafts.printed_lines import printed_in_rows, printed_quote


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


@pytest.mark.parametrize(
    ("words", "rows"),
    [
        ("HANNE\n(low)\nDid *anyone*\nsee? [[who?]]", ["HANNE: (low) Did anyone see?"]),
        ("@McCabe", ["McCabe"]),
        ("Rain.\n\nHANNE ^\nNo.\n\n.THE QUAY", ["Rain.", "HANNE: No.", "THE QUAY"]),
        ("\n[[why?]]\n", ["[[why?]]"]),
        ("", [""]),
    ],
)
def test_a_speech_is_one_row_with_its_cue_in_front(words: str, rows: list[str]) -> None:
    assert printed_in_rows(words) == rows


def test_words_within_a_line_are_no_row_of_another_kind() -> None:
    assert printed_in_rows("# of the *boat*", begins_a_line=False) == ["# of the boat"]
