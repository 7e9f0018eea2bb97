"""What a screen reader, or somebody who speaks to the screen, calls a link or a button by (WCAG 2.2, 2.5.3)."""

from __future__ import annotations

import re
from pathlib import Path

TEMPLATES = Path(__file__).resolve().parents[2] / "templates"
PRESSED = re.compile(r"<(a|button|summary)\b((?:[^>{]|{{.*?}}|{%.*?%})*)>(.*?)</\1>", re.DOTALL)
LABEL = re.compile(r'aria-label="([^"]*)"')
NOT_SAID = re.compile(r'<(\w+)[^>]*aria-hidden="true"[^>]*>.*?</\1>|<[^>]*>|{%.*?%}', re.DOTALL)


def words(shown: str) -> str:
    return " ".join(NOT_SAID.sub(" ", shown).split()).lower()


def names_and_words() -> list[tuple[str, str]]:
    """The label that stands for the words of a link or button, and the words that are seen on it."""
    return [
        (label[1].lower(), words(shown))
        for path in sorted(TEMPLATES.rglob("*.html"))
        for _, attributes, shown in PRESSED.findall(path.read_text(encoding="utf-8"))
        if (label := LABEL.search(attributes))
    ]


def test_what_is_read_out_for_a_link_or_button_has_the_words_that_are_seen_on_it() -> None:
    found = names_and_words()
    assert ("back to where i was", "back") in found
    assert [(label, seen) for label, seen in found if re.search(r"\w", seen) and seen not in label] == []
