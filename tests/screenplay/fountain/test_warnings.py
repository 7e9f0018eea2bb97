"""What a writer is told is worth mending: on which line, about which rule, and in words that say what to do."""

from __future__ import annotations

import pytest

from screenplay import parse
from screenplay.fountain.spellings import one_letter_apart

HEADING = "INT. FERRY - NIGHT\n\n"


def said(text: str) -> list[tuple[int, str, str]]:
    return [(warning.line, warning.rule, warning.text) for warning in parse(text).warnings]


def test_a_sound_script_has_no_warnings() -> None:
    assert said(HEADING + "Mara waits.\n\nMARA\n(low)\nIt won't hold.\n\nCUT TO:\n\nEXT. QUAY - DAY\n\nRain.\n") == []


def test_an_empty_text_has_no_warnings() -> None:
    assert said("") == []


@pytest.mark.parametrize(
    ("text", "line", "rule", "words"),
    [
        ("INT. FERRY - NIGHT\nMara waits.\n", 1, "F2", "no blank line under it: put one there"),
        ("INT. FERRY\n\nMara waits.\n", 1, "F2", "no time of day: add one after a dash"),
        (
            HEADING + "INTERCUT - CAUSEWAY / KITCHEN #3#\n\nRain.\n",
            3,
            "F4",
            "no scene heading: put a dot before it if it is",
        ),
        (
            HEADING + "Rain.\nMONTAGE #4A#\nMara packs.\n",
            4,
            "F4",
            "This line ends in a scene number but is no scene heading",
        ),
        (HEADING + "MONTAGE - THE CROSSING #5#\nMara packs.\n", 3, "F4", "put a dot before it if it is one"),
        (HEADING + "Mara waits.\nEXT. QUAY - DAY\n", 4, "F2", "reads as action: put a blank line above it"),
        (HEADING + "MARA\nYes.\nEXT. QUAY - DAY\n", 5, "F2", "reads as MARA's words: put a blank line above it"),
        ("INT. A - DAY #7#\n\nEXT. B - DAY #7#\n", 3, "F4", "number 7 is taken by the scene on line 1"),
        (HEADING + "MARA\nYes.\n\nMARRA\n\nNo.\n", 6, "F7", "“MARRA” is one letter from “MARA” and reads as action"),
        (HEADING + "MARA\nYes.\n\nMARA\n\nNo.\n", 6, "F7", "put the words on the next line, right under it"),
        (HEADING + "MARA\nYes.\n\nShe turns.\nMARA\nNo.\n", 7, "F7", "put a blank line above it"),
        (HEADING + "JO\nYes.\n\nMARA\nYes.\nJO\nNo.\n", 8, "F7", "reads as MARA's words: put a blank line above it"),
        (HEADING + "MARA\nYes.\n\nMARRA\nNo.\n", 6, "F7", "“MARRA” may be “MARA” under another spelling"),
        (HEADING + "Rain.\n#4 is lost.\n", 4, "F21", "makes this line a section, which is not printed"),
        (HEADING + "Rain.\n= 12 posts.\n", 4, "F22", "makes this line a synopsis, which is not printed"),
        (HEADING + "Rain.\n.5 of a metre.\n", 4, "F3", "makes this line a scene heading: put a blank line above it"),
        (HEADING + "Rain.\n@home.\nNo.\n", 4, "F8", "or ! before it if it is action"),
        (HEADING + "@Mara\n\nRain.\n", 3, "F8", "“Mara” has nothing to say"),
        (HEADING + "MARA (V.O.\nYes.\n", 3, "F9", "is not closed"),
        (HEADING + "MARA\nYes.\n  \nEXT. QUAY - DAY\n", 6, "F10", "the blank line above it has spaces in it"),
        (HEADING + "MARA ^\nYes.\n", 3, "F12", "no speech before this one"),
        (HEADING + "CUT TO:\nThe quay.\n", 3, "F14", "put a blank line under it if it is a transition"),
        (HEADING + "Mara [[waits.\n", 3, "F19", "put ]] where the note ends"),
        (HEADING + "Mara /* waits.\n", 3, "F20", "put */ where what it cuts ends"),
        ("Mara waits.\n", 1, "F2", "There is no scene heading"),
        ("Title: X\n", 1, "F1", "only a title page"),
        ("She said: no.\n\n" + HEADING, 1, "F1", "put ! before it if it is action"),
    ],
)
def test_a_warning_says_where_and_what_would_mend_it(text: str, line: int, rule: str, words: str) -> None:
    assert [(line, rule)] == [(number, name) for number, name, sentence in said(text) if words in sentence]


def test_nothing_is_said_of_a_number_that_a_mark_in_front_makes_words_or_a_headings() -> None:
    script = ".INTERCUT - CAUSEWAY / KITCHEN #3#\n\nRain.\n\n!MONTAGE #4#\n\nThe # of #12 and ##.\n\n@Mara #2#\nYes.\n"
    assert said(HEADING + script) == []


@pytest.mark.parametrize(
    "line",
    [
        "Apartment #3#",
        "He dials #31#",
        "The tag reads #BLESSED#",
        "HASHTAG #BLESSED#",
        "A sign: ROOM #7#",
        "CUT TO: #3#",
    ],
)
def test_nothing_is_said_of_what_only_ends_as_a_scene_number_does(line: str) -> None:
    assert [warning for warning in parse(f"{HEADING}They wait.\n{line}\n").warnings if warning.rule == "F4"] == []


def test_of_two_spellings_the_rarer_is_the_one_to_mend() -> None:
    speech = "MARRA\nYes.\n\n"

    (warning,) = parse(HEADING + "MARA\nYes.\n\n" + speech * 2).warnings

    assert (warning.line, warning.text.split()[0]) == (3, "“MARA”")


def test_two_names_a_letter_apart_are_two_people_until_one_hardly_speaks() -> None:
    mark, mara = "MARK\nYes.\n\n", "MARA\nNo.\n\n"

    assert said(HEADING + (mark + mara) * 3) == []
    assert [rule for _, rule, _ in said(HEADING + mark + mara * 3)] == ["F7"]


def test_forced_action_is_meant_and_not_warned_of() -> None:
    assert said(HEADING + "MARA\nYes.\n\n!MARRA\n\nNo.\n") == []


def test_a_million_unclosed_marks_are_said_once_a_paragraph() -> None:
    assert [rule for _, rule, _ in said(HEADING + "[[" * 1000)] == ["F19"]


@pytest.mark.parametrize(("one", "other"), [("MARA", "MARRA"), ("MARA", "MARK"), ("MARA", "AMRA")])
def test_names_one_letter_apart(one: str, other: str) -> None:
    assert one_letter_apart(one, other)
    assert one_letter_apart(other, one)


@pytest.mark.parametrize(
    ("one", "other"),
    [("MARA", "MARA"), ("MARA", "MIRK"), ("GUARD 1", "GUARD 2"), ("MAN A", "MAN B"), ("MARA", "MAARRA")],
)
def test_names_that_are_not(one: str, other: str) -> None:
    assert not one_letter_apart(one, other)
    assert not one_letter_apart(other, one)
