"""What a writer is told is worth mending: on which line, about which rule, and in words that say what to do."""

from __future__ import annotations

import pytest

from screenplay import parse
from screenplay.fountain.spellings import one_letter_apart

HEADING = "INT. FERRY - NIGHT\n\n"
SPOKEN = HEADING + "SIGNE\nNo.\n\nOTTO\nNo.\n\n@McALLISTER\nAnd my eels.\n\n"


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


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("McALLISTER", "“McALLISTER” speaks elsewhere, but this line reads as action: put @ before it"),
        ("McAllister (O.S.)", "“McAllister” speaks elsewhere"),
        ("Signe", "“Signe” speaks elsewhere, but this line reads as action: put @ before it, or write it in capitals"),
        ("Signe ^", "“Signe” speaks elsewhere"),
        ("SIGNE and OTTO", "“SIGNE and OTTO” speak elsewhere, but this line reads as action"),
        ("OTTO, Signe & McALLISTER", "“OTTO, Signe & McALLISTER” speak elsewhere"),
        ("DeWITT (O.S.)", "“DeWITT” has small letters, and so this line reads as action: put @ before it"),
        ("VON DeWITT", "“VON DeWITT” has small letters"),
    ],
)
def test_a_name_over_a_line_that_small_letters_make_action_is_told(line: str, words: str) -> None:
    (warned,) = said(f"{SPOKEN}{line}\nI'll stand.\n")

    assert warned[:2] == (SPOKEN.count("\n") + 1, "F7")
    assert words in warned[2]
    assert warned[2].endswith("if it is a cue.")


@pytest.mark.parametrize(
    "action",
    [
        "Signe looks up.\nShe waits.\n",
        "Signe.\nOtto.\nNobody.\n",
        "Rain.\nSigne\nand rain.\n",
        "Signe\n\nShe waits.\n",
        "!Signe\nwaits.\n",
        "Signe and Bo\nwait.\n",
        "Bo\nwaits.\n",
        "and\nthen.\n",
        "PhD\nstudents.\n",
        "SIGNE sees OTTO\nat the gate.\n",
        "A DOG\n\nbarks.\n",
    ],
)
def test_action_that_only_begins_with_a_name_is_no_cue_gone_wrong(action: str) -> None:
    assert [rule for _, rule, _ in said(SPOKEN + action)] == []


@pytest.mark.parametrize(
    "line",
    [
        "I have **never seen such.",
        "It was *him, again.",
        "“_Always, she says.",
        "It **was *him.",
        "_**Never*, she says.",
        "He *said _never* again_.",
        "It **was *him** again*.",
    ],
)
def test_a_mark_that_begins_a_word_and_never_closes_or_crosses_another_is_told_once(line: str) -> None:
    (warned,) = said(f"{HEADING}{line}\n\nMARA\nYes.\n")

    assert warned[:2] == (3, "F17")
    assert "has no partner on this line, or crosses another mark, and so it prints" in warned[2]


@pytest.mark.parametrize(
    "lines",
    ["It **was\nhim** again.", "It **was (him\nagain)**and her.", "It **was\nhim and\nher**.", "**Was it\nhim?**"],
)
def test_a_mark_that_closes_on_a_line_below_is_told_once_where_it_opens(lines: str) -> None:
    (warned,) = said(f"{HEADING}{lines}\n")

    assert warned[:2] == (3, "F17")
    assert warned[2].startswith("This ** has its partner on a line below")
    assert said(HEADING + "It **was**\n**him** again.\n") == []


def test_a_mark_on_the_next_line_that_closes_none_is_told_for_itself() -> None:
    script = HEADING + "It **was\nhim **again.\n\nIt *was.\n\nHim* again.\n"

    assert [(line, "no partner on this line" in text) for line, _, text in said(script)] == [
        (3, True),
        (4, True),
        (6, True),
    ]


def test_a_mark_that_would_close_on_the_next_line_is_told_and_so_is_one_in_a_speech() -> None:
    script = HEADING + "It *was\nhim* again.\n\nMARA\n(*low)\nI have **never seen.\n"

    assert [(line, rule) for line, rule, _ in said(script)] == [(3, "F17"), (7, "F17"), (8, "F17")]


@pytest.mark.parametrize(
    "line",
    [
        "* A list.",
        "2 * 3 * 4",
        "He dials *69 and *23.",
        "f**k and s***",
        "A line to fill in: ____",
        "\\*Not a mark.",
        "snake_case and 5*x",
        "*Whole*, **bold** and _under_.",
        "***both** italic*",
        "* * *",
        "Ends with a star*",
    ],
)
def test_a_lone_star_is_a_star(line: str) -> None:
    assert said(f"{HEADING}Rain. {line}\n") == []


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
