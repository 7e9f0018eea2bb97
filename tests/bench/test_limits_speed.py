"""How long the worst texts take that a script may be, as a ratio to a general-purpose parser's time.

Each text has as much of something as `screenplay.intake.limits` lets it have, and is read with its warnings, laid out,
and its scenes, characters and voices counted. The peer is markdown-it-py's parse (another plain-text standard, in
Python) of as many lines as a script may have, a blank one between each two paragraphs.
"""

from __future__ import annotations

from functools import cache

import pytest
from markdown_it import MarkdownIt

from screenplay import lay_out, parse, voices
from screenplay.intake import MAXIMUM_BYTES, read_text
from screenplay.intake.limits import LONGEST_LINE, MOST_LINES, MOST_MARKS, MOST_PAGE_BREAKS, MOST_SCENES, MOST_SPEAKERS
from tests.bench.stopwatch import least_until, seconds

MOST = 4
TRIES = 3


def filled(unit: str, before: str = "") -> str:
    """As many whole units as there may be lines, or bytes."""
    lines = (MOST_LINES - before.count("\n")) // unit.count("\n")
    return before + unit * min(lines, (MAXIMUM_BYTES - len(before.encode())) // len(unit.encode()))


def with_marks(unit: str, marks: int) -> str:
    """A text of long lines with as many units as there may be marks, `marks` being those of one."""
    a_line = LONGEST_LINE // len(unit) - 1
    return (unit * a_line + "\n") * (MOST_MARKS // (a_line * marks))


CAST = "".join(f"AAAA{chr(0x4E00 + number)}\nYes.\n\n" for number in range(MOST_SPEAKERS))
LIKE_NAMES = "".join(f"AAAA{chr(0x5E00 + number)}\n\n" for number in range(9_000))
WORST = {
    "speeches": filled("A\nb\n\n"),
    "speeches side by side": filled("A\nb\n\nC ^\nd\n\n"),
    "one speech": filled("B\n", before="A\n"),
    "scenes": filled("A\nb\n\n", before=".A\n\n" * MOST_SCENES),
    "scenes of one number": filled("A\nb\n\n", before=".A #1#\n\n" * MOST_SCENES),
    "names a letter apart": filled("A\nb\n\n", before=CAST),
    "lines a letter from a name": filled(LIKE_NAMES, before=CAST),
    "paragraphs": filled("a\n\n"),
    "full lines": filled("a bc " * 8 + "\n"),
    "long lines": filled("a bc " * (LONGEST_LINE // 5) + "\n"),
    "other letters": filled("аб в " * 5 + "\n"),
    "ideographs": filled("渡" * 13 + "\n"),
    "emphasis": with_marks("*a* ", 2),
    "marks within words": with_marks("*a*_b_", 4),
    "tabs": with_marks("\ta", 1),
    "notes": with_marks("a[[b]]", 1),
    "notes that nothing closes": filled("[[a\n\n"),
    "page breaks": filled("a\n\n", before="a\n\n===\n\n" * MOST_PAGE_BREAKS),
    "transitions": filled("TO:\n\n"),
    "songs": filled("~a\n"),
    "centered lines": filled(">a<\n"),
    "synopses": filled("=\n"),
    "a title page": filled("Title: a\n"),
}


def read_and_count(text: str) -> None:
    pages = lay_out(parse(text))
    assert pages.scenes is not None
    assert pages.characters is not None
    voices(pages)


@cache
def peer_seconds() -> float:
    markdown = MarkdownIt()
    return min(seconds(lambda: markdown.parse(filled("a\n\n"))) for _ in range(TRIES))


@pytest.mark.parametrize("text", WORST.values(), ids=WORST)
def test_the_worst_text_there_may_be_takes_a_few_times_as_long_as_markdown(text: str) -> None:
    read_text(text)
    most = MOST * peer_seconds()

    assert least_until(lambda: read_and_count(text), enough=most, tries=TRIES) <= most
