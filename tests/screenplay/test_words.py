"""What counts as a word."""

from __future__ import annotations

import pytest
import regex

from screenplay.words import count_words, words


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


@pytest.mark.parametrize(
    "text",
    [
        "The ferry's last crossing is to-night, isn't it?",
        "Über die Brücke, très vite: naïve façade",
        "Не ходи туда, прошу тебя",
        "Όχι τώρα, σε παρακαλώ",
        "Jose\u0301 et Zoe\u0308",
    ],
)
def test_words_without_hyphens_are_those_of_unicodes_word_rules(text: str) -> None:
    """Source: UAX 29's default word boundaries, as the `regex` package from PyPI has them with its WORD flag."""
    plain = text.replace("to-night", "tonight")

    theirs = [word for word in regex.split(r"(?w)\b", plain) if any(map(str.isalnum, word))]

    assert words(plain) == theirs
