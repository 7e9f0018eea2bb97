"""Lines that print in another way though their words stayed. What is said is this project's own choice of words; that
each of these is a change to whoever holds the pages is common practice in the trade."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

import screenplay
from screenplay.next_draft import marks_between
from screenplay.next_draft.set_otherwise import SetOtherwise
from tests.screenplay.rewriting_cases import cases

if TYPE_CHECKING:
    from tests.screenplay.rewriting_cases import Case

LANDING = """INT. LANDING - NIGHT

The stairs creak. Ruth and Peter whisper. A door shuts.

They look up.

RUTH
She knows.

PETER
She always knows.
"""


def told(old: str, new: str, words: str) -> str:
    """What is said of the line of the old text that has these words."""
    line = next(number for number, text in enumerate(old.split("\n"), 1) if words in text)
    return " ".join(SetOtherwise(screenplay.compare(old, new)).told_of([line]))


@pytest.mark.parametrize(
    ("old", "new", "words", "sentence"),
    [
        (". Ruth and Peter whisper. A", ".\n\nRuth and Peter whisper.\n\nA", "stairs", "One paragraph made three."),
        (". A door", ".\nA door", "stairs", "One line made two."),
        ("shuts.\n\nThey", "shuts. They", "They", "Two paragraphs made one."),
        ("shuts.\n\nThey", "shuts.\nThey", "They", "In one paragraph with what stands above it."),
        ("PETER\nShe", "She", "always", "Now action; it was said by PETER."),
        ("They look", "RUTH\nThey look", "They", "Now said by RUTH; it was action."),
        ("They look up.", "> They look up. <", "They", "Now centred; it was action."),
        ("PETER\nShe", "OLA\nShe", "always", "Now said by OLA; it was said by PETER."),
        ("PETER\n", "PETER ^\n", "RUTH", "Now side by side with PETER’s."),
        ("PETER\n", "PETER ^\n", "She knows.", "Now side by side with PETER’s."),
        ("PETER\nShe", "OLA\nNo. (beat)\nShe", "always", "Now said by OLA; it was said by PETER."),
        ("PETER\n", "PETER ^\n", "PETER", "Now side by side with RUTH’s."),
        ("They look up.", "[[They look up.]]", "They", "Now not printed; it was action."),
        ("She knows.", "She knows it all.", "She knows", ""),
        ("RUTH\nShe knows.\n\n", "", "always", ""),
        ("A door shuts.", "", "stairs", ""),
    ],
)
def test_it_says_how_a_line_is_set_now_and_the_same_read_backwards_is_no_silence(
    old: str, new: str, words: str, sentence: str
) -> None:
    assert LANDING.count(old) == 1
    after = LANDING.replace(old, new)
    assert told(LANDING, after, words) == sentence
    setting = SetOtherwise(screenplay.compare(after, LANDING))
    assert any(map(setting.is_so, range(1, LANDING.count("\n") + 1))) == bool(sentence)


def test_whoever_was_renamed_throughout_says_what_they_said() -> None:
    text = LANDING + "\nPETER\nSo it is.\n\nRUTH\nSo it was.\n"
    setting = SetOtherwise(screenplay.compare(text, text.replace("PETER", "PIET")))
    assert not any(map(setting.is_so, range(1, text.count("\n") + 1)))


def test_a_speech_parted_by_another_is_told_where_it_goes_on() -> None:
    old = LANDING.replace("She always knows.", "She always knows. And she never says.")
    new = old.replace("knows. And", "knows.\n\nRUTH\nHush.\n\nPETER\nAnd")
    setting = SetOtherwise(screenplay.compare(old, new))
    line = new.split("\n").index("And she never says.") + 1
    assert setting.told([line]) == "Parted from what stood before it."


@pytest.mark.parametrize("case", list(cases()), ids=lambda case: case.name)
def test_of_whatever_gets_an_asterisk_with_the_words_that_it_had_something_is_said(case: Case) -> None:
    comparison = screenplay.compare(case.before.text, case.after.text)
    setting = SetOtherwise(comparison)
    marked = marks_between(comparison).in_lines
    along = {(scene.old, scene.new) for scene in comparison.scenes if scene.fate in {"moved", "merged", "split"}}
    for fate in comparison.lines:
        old, new = comparison.old, comparison.new
        words = [each.split() for each in (old.source[fate.old - 1], " ".join(new.source[n - 1] for n in fate.new))]
        scenes = {(old.scene_of[fate.old - 1], new.scene_of[line - 1]) for line in fate.new}
        if words[0] != words[1] or along & scenes or fate.fate == "joined":
            continue
        if any(end for line in fate.new for _, end in marked.get(line, ())):  # not only where something above was cut
            assert setting.told_of([fate.old]) or setting.moved([fate.old]), old.source[fate.old - 1]
