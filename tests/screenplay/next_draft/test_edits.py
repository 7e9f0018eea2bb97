"""Wordings put into a text."""

from __future__ import annotations

import pytest

from screenplay import revise
from screenplay.next_draft.edits import Edit, Overtaken, join_words, reworded

TEXT = "NELL\nTide turns at four.\n\nTOBIAS\nThen we go at three.\n"


def test_a_wording_replaces_its_lines_and_nothing_else() -> None:
    assert revise(TEXT, [Edit(2, 2, "The tide turns at five.")]).text == TEXT.replace(
        "Tide turns at four.", "The tide turns at five."
    )


def test_an_empty_wording_cuts_its_lines() -> None:
    assert revise(TEXT, [Edit(4, 5, "")]).text == "NELL\nTide turns at four.\n\n"


def test_a_wording_may_have_more_lines_or_fewer() -> None:
    longer = revise(TEXT, [Edit(2, 2, "(low)\nTide turns at four.")]).text
    assert longer == "NELL\n(low)\nTide turns at four.\n\nTOBIAS\nThen we go at three.\n"
    assert revise(TEXT, [Edit(1, 5, "Nobody speaks.")]).text == "Nobody speaks.\n"


def test_line_ends_are_those_of_the_lines_replaced() -> None:
    text = "One.\r\nTwo.\rThree."
    assert revise(text, [Edit(1, 3, "Uno.\nDue.\nTre.")]).text == "Uno.\r\nDue.\rTre."
    assert revise(text, [Edit(3, 3, "Drei.\nVier.")]).text == "One.\r\nTwo.\rDrei.\r\nVier."


def test_edits_of_different_words_in_one_line_go_together() -> None:
    revised = revise(TEXT, [Edit(2, 2, "Tide turns at five."), Edit(2, 2, "The water turns at four.")])
    assert revised.taken == (0, 1)
    assert "The water turns at five." in revised.text


def test_edits_of_the_same_words_cannot_both_be_taken_and_the_later_says_by_which() -> None:
    edits = [Edit(5, 5, "Then we stay."), Edit(2, 2, "Tide turns at five."), Edit(2, 2, "Tide turns at six.")]
    revised = revise(TEXT, edits)
    assert revised.taken == (0, 1)
    assert revised.overtaken == (Overtaken(2, by=1),)
    assert "five" in revised.text
    assert "six" not in revised.text


def test_an_edit_is_taken_whole_or_not_at_all() -> None:
    edits = [Edit(2, 2, "Tide turns at five."), Edit(2, 5, "Tide turns at six.\n\nTOBIAS\nThen we stay.")]
    assert revise(TEXT, edits).text == revise(TEXT, edits[:1]).text


def test_the_same_edit_twice_is_taken_twice_and_shows_once() -> None:
    edit = Edit(2, 2, "Tide turns at five.")
    revised = revise(TEXT, [edit, edit])
    assert revised.taken == (0, 1)
    assert revised.text == revise(TEXT, [edit]).text


def test_words_put_in_at_the_same_place_are_a_conflict() -> None:
    edits = [Edit(2, 2, "Tide now turns at four."), Edit(2, 2, "Tide soon turns at four.")]
    assert revise(TEXT, edits).overtaken == (Overtaken(1, by=0),)


def test_words_put_in_beside_a_line_that_is_cut_are_a_conflict() -> None:
    assert revise(TEXT, [Edit(2, 2, ""), Edit(2, 2, "Hear me: Tide turns at four.")]).taken == (0,)


def test_neighbouring_lines_are_cut_by_two_edits() -> None:
    assert revise(TEXT, [Edit(4, 4, ""), Edit(5, 5, "")]).text == "NELL\nTide turns at four.\n\n"


@pytest.mark.parametrize(("first", "last"), [(0, 1), (2, 1), (5, 6), (7, 7)])
def test_lines_that_are_not_there_are_refused(first: int, last: int) -> None:
    with pytest.raises(ValueError, match="lines"):
        revise(TEXT, [Edit(first, last, "x")])


def test_what_two_made_of_a_text_is_joined_word_by_word() -> None:
    assert join_words("Tide turns at four.", "Tide turns at five.", "The tide turns at four.") == (
        "The tide turns at five."
    )
    assert join_words("Tide turns at four.", "Tide turns at five.", "Tide turns at six.") is None


def test_a_taken_edit_comes_out_again_and_what_was_written_beside_it_stays() -> None:
    edit = Edit(2, 2, "Tide turns at five.")
    with_it = reworded(TEXT, edit)
    since = with_it.replace("Then we go", "Then we row")
    assert join_words(with_it, since, TEXT) == TEXT.replace("Then we go", "Then we row")
    assert join_words(with_it, with_it.replace("five", "half past five"), TEXT) is None
