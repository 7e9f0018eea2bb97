"""Whom a scene concerns as it stands."""

from __future__ import annotations

from review.changes.concerned import concerned_departments
from screenplay import break_down, lay_out, parse
from screenplay.breakdown import SoughtWord, find_marked_words

SCRIPT = "EXT. YARD - NIGHT\n\nNell fires a pistol. He drops his suitcase.\n\nINT. HALL - DAY\n\nThey wait.\n"


def test_a_department_is_concerned_by_its_cautions_its_words_and_its_marks() -> None:
    pages = lay_out(parse(SCRIPT))
    yard, hall = break_down(pages)
    marks = [SoughtWord("Nell", "costume"), SoughtWord("pistol", "production")]
    places = find_marked_words(pages.script, marks)
    told = {str(one.department): one.told for one in concerned_departments(yard, places)}

    assert "pistol" in told["stunts"]
    assert {"pistol", "suitcase"} <= {*told["props"].split(", ")}
    assert told["costume"] == "Nell"
    # Production answers for the whole film: it is told of what it marked, and of nothing else.
    assert told["production"] == "pistol"
    assert not {"direction", "editing", "writing", "cast"} & {*told}
    assert concerned_departments(hall) == []


def test_each_word_is_told_once_with_its_line() -> None:
    pages = lay_out(parse(SCRIPT))
    places = find_marked_words(pages.script, [SoughtWord("pistol", "props")])
    props = next(one for one in concerned_departments(break_down(pages)[0], places) if one.department == "props")
    assert [each for each in props.words_on_lines if each[0] == "pistol"] == [("pistol", 3)]
