"""What holds of every text read as typed in columns, however it was made."""

from __future__ import annotations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from screenplay import parse
from screenplay.intake import Unreadable, from_columns, looks_typed_in_columns
from screenplay.intake.columns import MAXIMUM_PAGES
from screenplay.words import words
from tests.screenplay.scripts import any_text

LAWS = settings(max_examples=60)
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
@example("                              *")  # all that stands there is taken off as a mark of changes
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
        from_columns("They row.\n\f" * (MAXIMUM_PAGES + 1))
    with pytest.raises(Unreadable, match="over 1,000 pages"):
        from_columns("\f" * 1_000_000)
