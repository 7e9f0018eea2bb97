"""Some pages of a draft in words."""

from __future__ import annotations

from dataclasses import replace

import pytest

import screenplay
from review.drafts.page_words import pages_in_words
from screenplay.page import TITLE_PAGE

PAGES = ("10", "11-12", "13", "14", "15", "15A", "16", "17", "18")


@pytest.mark.parametrize(
    ("labels", "words"),
    [
        (("13", "14", "15"), "pages 13 to 15"),
        (("10", "11-12", "13"), "pages 10, 11-12 and 13"),
        (("13", "14", "15", "15A", "16", "17", "18"), "pages 13 to 15, 15A and 16 to 18"),
        (("14", "15", "16"), "pages 14, 15 and 16"),
        (("15A",), "page 15A"),
        ((TITLE_PAGE, "10"), "the title page, and page 10"),
    ],
)
def test_a_page_that_is_no_number_is_named_by_itself(labels: tuple[str, ...], words: str) -> None:
    """What runs together, and what was added behind a locked page, are called as is common practice in the trade."""
    layout = screenplay.lay_out(screenplay.parse("\n\n===\n\n".join(f"Line {n}." for n in range(len(PAGES))))).layout
    pages = tuple(replace(page, locked_label=label) for page, label in zip(layout.pages, PAGES, strict=True))
    assert pages_in_words(labels, replace(layout, pages=pages)) == words
