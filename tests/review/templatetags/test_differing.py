"""What differs between two texts, as the screens of a conflict show it."""

from __future__ import annotations

import re

from bs4 import BeautifulSoup

from review.templatetags.differing import differing
from screenplay.comparing import word_changes

LINES = [f"Line {number} of the scene.\n" for number in range(1, 21)]
BEFORE = "".join(LINES)
AFTER = BEFORE.replace("Line 10 of", "Line ten, not 11, of")


def page(before: str, after: str) -> BeautifulSoup:
    return BeautifulSoup(differing(word_changes(before, after)), "html.parser")


def test_lines_far_from_what_differs_are_folded() -> None:
    shown = page(BEFORE, AFTER)
    folds = [fold.extract() for fold in shown.select("details")]
    assert [fold.summary and fold.summary.text for fold in folds] == ["7 lines the same", "8 lines the same"]
    in_view = re.findall(r"Line (\d+) of", re.sub(r"ten.*?of", "10 of", shown.text))
    assert set(in_view) >= {"8", "9", "11", "12"}
    assert not {"1", "2", "19", "20"} & set(in_view)


def test_nothing_is_lost_by_folding() -> None:
    shown = page(BEFORE, AFTER)
    for said in shown.select(".unseen, summary, del"):
        said.extract()
    assert shown.text == AFTER


def test_what_was_cut_and_added_is_said_to_those_who_hear_the_page() -> None:
    assert "cut: Fog (end of cut)" in page("Fog.\n", "Snow.\n").text
    assert "added: Snow (end of added)" in page("Fog.\n", "Snow.\n").text


def test_a_few_lines_are_not_folded() -> None:
    assert not page("".join(LINES[:5]), "".join(LINES[:5]).replace("Line 1 ", "Line one ")).select("details")


def test_texts_are_escaped() -> None:
    assert differing(word_changes("<i>\n", "<b>\n")).count("<b>") == 0
