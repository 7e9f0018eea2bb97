"""How much a script may have, and what is said past it."""

from __future__ import annotations

import pytest

from screenplay import parse
from screenplay.intake import Unreadable, limits, read_bytes, read_text, refuse_more_than_a_script

TEXTS = {
    "lines": ("a\n" * limits.MOST_LINES, "over 100,000 lines"),
    "line ends of old systems": ("a\r" * limits.MOST_LINES, "over 100,000 lines"),
    "characters in a line": ("INT. FERRY - DAY\n\n" + "x" * limits.LONGEST_LINE, "over 20,000 characters in line 3"),
    "stars": ("*a\n" * 10 * 1000 + "**\n" * 45_000, "over 100,000 tabs, marks of emphasis and notes"),
    "tabs": ("\t\ta\n" * (limits.MOST_MARKS // 2), "over 100,000 tabs, marks of emphasis and notes"),
    "notes": ("[[a]] [[b]]\n" * (limits.MOST_MARKS // 2), "over 100,000 tabs, marks of emphasis and notes"),
}
SCRIPTS = {
    "scenes": (".A\n\n" * limits.MOST_SCENES, ".A", "over 3,000 scenes"),
    "characters": (
        "".join(f"GUARD {number}\nYes.\n\n" for number in range(limits.MOST_SPEAKERS)),
        "MARA\nNo.",
        "over 1,000 characters who speak",
    ),
    "warnings": (
        "INT. FERRY - DAY\n\n" + "A B\n" * (limits.MOST_WARNINGS + 2),
        "A B\n",
        "over 10,000 lines that may not",
    ),
    "page breaks": ("===\n\n" * limits.MOST_PAGE_BREAKS, "===", "over 1,000 page breaks"),
}


def is_one_sentence(sentence: str) -> bool:
    return sentence.endswith(".") and ". " not in sentence and ": " in sentence


@pytest.mark.parametrize(("most", "words"), TEXTS.values(), ids=TEXTS)
def test_a_text_may_have_so_many_and_no_more(most: str, words: str) -> None:
    assert read_text(most).text == most
    assert read_bytes(most.encode()).text == most
    with pytest.raises(Unreadable, match=words) as refused:
        read_text(f"{most}*\tx\n")
    assert str(refused.value).startswith("The pasted text has ")
    assert is_one_sentence(str(refused.value))
    with pytest.raises(Unreadable, match=f"^“slack.txt” has {words}"):
        read_bytes(f"{most}*\tx\n".encode(), "slack.txt")


@pytest.mark.parametrize(("most", "one_more", "words"), SCRIPTS.values(), ids=SCRIPTS)
def test_a_script_may_have_so_many_and_no_more(most: str, one_more: str, words: str) -> None:
    refuse_more_than_a_script(parse(most))
    with pytest.raises(Unreadable, match=f"^This script has {words}") as refused:
        refuse_more_than_a_script(parse(f"{most}{one_more}"))
    assert is_one_sentence(str(refused.value))
