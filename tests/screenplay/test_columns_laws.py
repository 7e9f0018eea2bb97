"""What holds of every text read as typed in columns, however it was made, and how long that takes."""

from __future__ import annotations

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from screenplay import parse
from screenplay.intake import Unreadable, from_columns, looks_typed_in_columns
from screenplay.intake.columns import MAXIMUM_SHEETS
from screenplay.words import words
from tests.screenplay.scripts import any_text

LAWS = settings(deadline=None, max_examples=60)
PIECES = st.sampled_from(
    ["INT. QUAY - DAY", "MARA", "(MORE)", "MARA (CONT'D)", "(low)", "It won't hold.", "12.", "12", "*", "CUT TO:",
     "CONTINUED:", "THE END", "渡し船", "x" * 75, "[[", "/*", "~", ">", "(", ")", "well-", "--"]
)  # fmt: skip
typed_lines = st.tuples(st.integers(0, 70), PIECES, st.integers(0, 9), st.one_of(st.just(""), PIECES)).map(
    lambda line: " " * line[0] + line[1] + " " * line[2] + line[3]
)
typed_text = st.lists(st.one_of(typed_lines, st.sampled_from(["", "", "\f", "\t\t"])), max_size=60).map("\n".join)


@LAWS
@given(st.one_of(typed_text, any_text))
def test_any_text_is_read_and_gives_fountain(text: str) -> None:
    looks_typed_in_columns(text)
    converted = from_columns(text)

    lines = parse(converted.text).source
    assert all(1 <= guess.line <= len(lines) for guess in converted.guesses)
    assert "".join(lines) == converted.text


@LAWS
@given(st.lists(st.sampled_from(["a gull", "the net and the line", "MARA", "*wet*", "[[so]]", "渡し船"]), max_size=30))
def test_no_word_of_plain_paragraphs_is_lost(paragraphs: list[str]) -> None:
    text = "".join(f"               {paragraph}\n\n" for paragraph in paragraphs)

    assert words(from_columns(text).text) == words(text)


def test_a_text_of_too_many_pages_is_refused_with_a_sentence() -> None:
    with pytest.raises(Unreadable, match=r"^This script has over 1,000 pages, .*\.$"):
        from_columns("They row.\n\f" * (MAXIMUM_SHEETS + 1))
    with pytest.raises(Unreadable, match="over 1,000 pages"):
        from_columns("\f" * 1_000_000)


SCRIPT = "".join(
    f"{'':15}They row past post {number}, and the light goes down behind it, as\n{'':15}it did.\n\n"
    f"{'':37}MARA\n{'':25}Not that one, the next but one,\n{'':25}and then the gate.\n\n"
    for number in range(20)
)
HOSTILE = {
    "a script": SCRIPT,
    "parentheses": f"{'':37}MARA\n{'':31}(\n" * 40 + "\n",
    "one paragraph": f"{'':15}And so they row on past it and on until nothing is left of it all\n",
    "one word": "x",
    "words in one line": "a ",
    "page numbers": f"{'':70}2.\n\n",
    "brackets": "[[ /* ( * _ \\ ",
    "a speech of capitals": f"{'':25}The tide is out and Nobody has seen\n",
    "headers": f"A HEADER{'':50}1.\n",
    "tabs": "\t",
}


@pytest.mark.parametrize("name", HOSTILE)
def test_time_grows_with_the_length_of_the_text(name: str) -> None:
    # Ten times the text may take 30 times as long before it fails: a quadratic way takes 100 times.
    small = min(seconds(HOSTILE[name], 10_000) for _ in range(3))
    large = min(seconds(HOSTILE[name], 100_000) for _ in range(2))
    assert large < 30 * max(small, 0.002)


def seconds(piece: str, length: int) -> float:
    text = f"{'':37}MARA\n{'':25}Here.\n\n" * 3 + piece * (length // len(piece))
    start = time.process_time()
    from_columns(text)
    return time.process_time() - start
