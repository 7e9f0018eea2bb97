"""What counts as a word."""

from __future__ import annotations

import pytest
import regex
from hypothesis import given
from hypothesis import strategies as st

from screenplay.words import (
    STOPS,
    TEXT_END,
    count_words,
    token_spans,
    word_spans,
    words,
    words_and_stops,
    words_and_stops_of,
)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("", []),
        ("Don't wait.", ["Don't", "wait"]),
        ("Don’t wait", ["Don’t", "wait"]),
        ("well-worn to-night", ["well-worn", "to-night"]),
        ("wait--what", ["wait", "what"]),
        ("wait—what", ["wait", "what"]),
        ("'Tis the dogs' own", ["Tis", "the", "dogs", "own"]),
        ("U.S.A. or U.K., at 3 a.m.", ["U.S.A", "or", "U.K", "at", "3", "a.m"]),
        ("3.5 metres, 3,000 posts, 1.000,5", ["3.5", "metres", "3,000", "posts", "1.000,5"]),
        ("Wait.What? No...And 3. Then", ["Wait", "What", "No", "And", "3", "Then"]),
        ("23 metres, 4th try", ["23", "metres", "4th", "try"]),
        ("a_b", ["a", "b"]),
        ("... -- !", []),
        ("МАРА, нет", ["МАРА", "нет"]),
        ("Jose\u0301 est la\u0300", ["Jose\u0301", "est", "la\u0300"]),
        ("नमस्ते दुनिया", ["नमस्ते", "दुनिया"]),
        ("Mara\u00a0waits", ["Mara", "waits"]),
    ],
)
def test_the_words_of_a_text(text: str, found: list[str]) -> None:
    assert words(text) == found
    assert count_words(text) == len(found)


LETTERS = [
    "boat",
    "isn't",
    "don’t",
    "o'clock",
    "ДА",
    "été",
    "Zoe\u0308",
    "Ναι",
    "नमस्ते",
    "4th",
    "12",
    "3.5",
    "10,000",
    "U.S.A",
    "a.m",
]
APART = [
    " ",
    ", ",
    ". ",
    "... ",
    "! ",
    " (",
    ") ",
    "; ",
    " — ",
    "—",
    " “",
    "” ",
    "? ",
    ": ",
    "\u00a0",
    " ' ",
    "/",
    " & ",
]


@given(st.lists(st.tuples(st.sampled_from(LETTERS), st.sampled_from(APART)), max_size=30))
def test_words_without_hyphens_are_those_of_unicode_s_word_rules(pairs: list[tuple[str, str]]) -> None:
    """Source: UAX 29's default word boundaries, as the `regex` package from PyPI has them with its WORD flag."""
    text = "".join(word + between for word, between in pairs)

    theirs = [word for word in regex.split(r"(?w)\b", text) if any(map(str.isalnum, word))]

    assert words(text) == theirs


@given(st.text("aB1'-., \n_;\0", max_size=30))
def test_plain_letters_have_the_words_that_they_have_beside_others(text: str) -> None:
    assert words(text) == words(f"{text} é")[:-1]
    assert words_and_stops(text) == words_and_stops(f"{text} é")[:-1]
    assert [word for word in words_and_stops(text) if word not in STOPS] == words(text)
    assert [text[start:end] for start, end in word_spans(text)] == words(text)
    assert len(token_spans(text)) == len(words_and_stops(text))


@given(texts=st.lists(st.text(alphabet="ab1 .,'-?!\n\x1eé", max_size=12), max_size=6))
def test_texts_looked_at_together_are_as_each_by_itself(texts: list[str]) -> None:
    assert words_and_stops_of(texts) == [token for text in texts for token in (*words_and_stops(text), TEXT_END)]
