"""How fast a script is read, as ratios to other work on the same text in the same run, never in seconds.

The peers: markdown-it-py's parse (a parser for another plain-text standard, in Python), a bare loop that only splits
the lines and tries the standard's line patterns on each until one fits, and Django's start, for the first use in a
process. The text is `hamlet` as Fountain (tests/plays.py).
"""

from __future__ import annotations

import re
import subprocess
import sys
import tracemalloc
from pathlib import Path
from typing import TYPE_CHECKING

from markdown_it import MarkdownIt

from screenplay import parse
from screenplay.fountain.lines import line_tokens
from screenplay.fountain.source_lines import SourceLines
from tests.bench.stopwatch import least_seconds, ratio_of_least
from tests.plays import play_as_fountain

if TYPE_CHECKING:
    import pytest

ROOT = Path(__file__).resolve().parents[2]
TRIES = 7

# How a line alone tells what it could be. Source: the standard's rules F1 to F22 (fountain.io/syntax).
LINE_PATTERNS = [
    re.compile(pattern)
    for pattern in (
        r"(?i:INT\.?/EXT|INT|EXT|EST|I/E)[. ]",
        r"\.[^\W_]",
        r"!",
        r"@\S",
        r"~\S",
        r"={3,}$",
        r"=",
        r"#{1,6}[^#]",
        r">.*<$",
        r">",
        r"\(.*\)$",
        r"[^a-z]+TO:$",
        r"(?=.*[A-Z])[^a-z(]+(?:\(.*\))?\s*\^?$",
        r"[^\s:][^:]*:(?:\s|$)",
    )
]


def test_a_play_is_read_at_least_twice_as_fast_as_markdown(capsys: pytest.CaptureFixture[str]) -> None:
    text = play_as_fountain("hamlet")
    markdown = MarkdownIt()
    parse(text)

    ours, theirs = least_seconds(lambda: parse(text), lambda: markdown.parse(text), tries=TRIES)

    with capsys.disabled():
        print(f"\nparse of hamlet: {theirs / ours:.2f} times as fast as markdown-it-py's")  # noqa: T201
    assert theirs >= 2 * ours


def lines_and_patterns_alone(text: str) -> None:
    for line in text.splitlines():
        stripped = line.strip()
        for pattern in LINE_PATTERNS:
            if pattern.match(stripped):
                break


def test_reading_a_play_takes_at_most_four_times_as_long_as_trying_the_line_patterns(
    capsys: pytest.CaptureFixture[str],
) -> None:
    text = play_as_fountain("hamlet")
    parse(text)

    ours, bare, lexing = least_seconds(
        lambda: parse(text),
        lambda: lines_and_patterns_alone(text),
        lambda: list(line_tokens(SourceLines(text))),
        tries=TRIES,
    )

    with capsys.disabled():
        print(f"\nparse of hamlet: {ours / bare:.2f} of a bare loop, {ours / lexing:.2f} of our own lexer")  # noqa: T201
    assert ours <= 4 * bare


def test_reading_a_play_takes_at_most_25_times_its_length_in_memory(capsys: pytest.CaptureFixture[str]) -> None:
    text = play_as_fountain("hamlet")
    parse(text)
    tracemalloc.start()
    try:
        parse(text)
        _, peak = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()

    with capsys.disabled():
        print(f"\npeak memory of parse: {peak / len(text.encode()):.1f} times the text")  # noqa: T201
    assert peak <= 25 * len(text.encode())


FIRST_USE = """
from time import process_time
start = process_time()
{work}
print(process_time() - start)
"""
OURS = """
from screenplay import parse
from screenplay.fountain import runs
runs(parse('INT. FERRY - NIGHT\\n\\n*Rain.*').elements[1].lines[0])
"""
DJANGO = "import os\nos.environ['DJANGO_SETTINGS_MODULE'] = 'project.settings'\nimport django\ndjango.setup()"


def test_the_first_use_in_a_process_takes_less_time_than_django_does_to_start(
    capsys: pytest.CaptureFixture[str],
) -> None:
    ratio = ratio_of_least(
        lambda: seconds_in_a_new_process(OURS), lambda: seconds_in_a_new_process(DJANGO), enough=1, tries=3
    )

    with capsys.disabled():
        print(f"\nfirst use, grammars and all: {ratio:.2f} of django.setup()")  # noqa: T201
    assert ratio < 1


def seconds_in_a_new_process(work: str) -> float:
    done = subprocess.run(
        [sys.executable, "-c", FIRST_USE.format(work=work)], cwd=ROOT, capture_output=True, text=True, check=True
    )
    return float(done.stdout)
