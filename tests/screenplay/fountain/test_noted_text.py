"""Notes woven into a text: taken out again they leave the text, and they move nothing on the pages."""

from __future__ import annotations

import re

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from screenplay import PageSetting, paginate, parse
from screenplay.fountain.noted_text import as_note, with_notes
from screenplay.printing import print_pages

OURS = "Note 7:"
END = r"(?:\r\n|\n|\r)"
NOTE = rf"\[\[ {OURS}.*?\]\]"
PIECES = st.sampled_from(
    [
        "INT. BARN - DAY",
        "NELL",
        "Rain.",
        "[[",
        "]]",
        "/*",
        "*/",
        "[[ mine ]]",
        "\n",
        "\n\n",
        "\r\n",
        "\n \n",
        "\n  \n",
        "Title: Tide",
        "CUT TO:",
        "(low)",
        "NELL ^",
        "~la",
        " ",
        "[",
        "]",
        "> ",
        "===",
        "= ",
        "\r",
    ]
)
TEXTS = st.lists(PIECES, max_size=14).map("".join)
WORDS = st.lists(
    st.sampled_from(["tide", "]]", "[[", "*/", "/*", "\n", "\n\n", " ", "]", "[", "/", "*", "\r"]), max_size=8
)
NOTES = st.lists(st.tuples(st.integers(0, 20), WORDS.map(lambda words: f"{OURS}{''.join(words)}")), max_size=4)


def without_notes(text: str) -> str:
    whole = re.sub(rf"{NOTE}{END}", "", text, flags=re.DOTALL)
    return re.sub(rf"{END}{NOTE}\Z", "", whole, flags=re.DOTALL)


def pages(text: str) -> str:
    return print_pages(paginate(parse(text), PageSetting()), scene_numbers=False, counted=True)


@given(TEXTS, NOTES)
@example("A [[ never closed\n\nRain.", [(1, f"{OURS} a")])
@example("A [[ never closed", [(1, f"{OURS} a")])
@example("[[ one\n/* \n\n */\ntwo", [(2, f"{OURS} a"), (4, f"{OURS} b")])
@settings(max_examples=150)
def test_taken_out_again_they_leave_the_text_and_they_move_nothing(text: str, notes: list[tuple[int, str]]) -> None:
    noted = with_notes(text, notes)
    assert noted.count(f"[[ {OURS}") == len(notes)
    assert without_notes(noted) == text
    assert pages(noted) == pages(text)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("Why ]] here", "[[ Why ] ] here ]]"),
        ("Ends in ]", "[[ Ends in ] ]]"),
        ("[[[", "[[ [ [ [ ]]"),
        ("/* out */", "[[ / * out * / ]]"),
        ("One.\n\nTwo.", "[[ One.\n  \nTwo. ]]"),
    ],
)
def test_words_cannot_end_their_note(words: str, told: str) -> None:
    """F19: a note ends at its first `]]`, and a blank line in it needs two spaces."""
    assert as_note(words) == told


def test_a_note_stands_behind_its_line_in_the_text_s_own_line_ends() -> None:
    assert with_notes("One.\r\n\r\nTwo.\r\n", [(3, "b"), (1, "a")]) == "One.\r\n[[ a ]]\r\n\r\nTwo.\r\n[[ b ]]\r\n"


def test_a_note_on_a_line_within_another_note_stands_behind_that() -> None:
    assert with_notes("[[ mine\nmore ]]\nRain.", [(1, "a")]) == "[[ mine\nmore ]]\n[[ a ]]\nRain."
