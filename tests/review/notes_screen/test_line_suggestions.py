"""Finding lines for a note, by likeness and by words."""

from __future__ import annotations

from review.notes_screen.line_suggestions import likest_lines, lines_with


def test_likest_lines_come_first_and_do_not_overlap() -> None:
    lines = ["The lamp is lit.", "", "A lamp is lit by NELL.", "Rain.", "The lamp was lit."]
    found = likest_lines(["The lamp is lit."], lines)
    assert found[0].first_line == 1
    assert {candidate.first_line for candidate in found} == {1, 3, 5}


def test_nothing_is_suggested_where_nothing_is_alike() -> None:
    assert likest_lines(["He waits."], ["", "XYLOPHONE", ""]) == []
    assert likest_lines(["", " "], ["He waits."]) == []
    assert likest_lines(["He waits."], []) == []


def test_words_are_found_whatever_their_case_and_order() -> None:
    found = lines_with("four TIDE", ["Tide turns at four.", "Four.", ""])
    assert [candidate.first_line for candidate in found] == [1]
    assert lines_with("  ", ["Tide."]) == []
