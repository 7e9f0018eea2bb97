"""How long the voices of a play take, against a general-purpose parser's time for the same text in the same run."""

from __future__ import annotations

from typing import TYPE_CHECKING

from markdown_it import MarkdownIt

from screenplay import lay_out, paginate, parse, voices
from tests.bench.stopwatch import least_ratio
from tests.plays import play_as_fountain

if TYPE_CHECKING:
    from pytest_benchmark.fixture import BenchmarkFixture

TRIES = 5
MOST_OF_THE_PEER_S_TIME = 1.0


def test_voices_take_no_longer_than_markdown_it_py_takes_to_parse_the_text(benchmark: BenchmarkFixture) -> None:
    text = play_as_fountain("hamlet")
    script = lay_out(parse(text))
    markdown = MarkdownIt()
    benchmark(voices, script)
    ratio = least_ratio(lambda: voices(script), lambda: markdown.parse(text), tries=TRIES)
    benchmark.extra_info["ratio to markdown-it-py"] = round(ratio, 2)
    assert ratio <= MOST_OF_THE_PEER_S_TIME


def test_the_layout_takes_no_longer_than_three_such_parses(benchmark: BenchmarkFixture) -> None:
    text = play_as_fountain("hamlet")
    script = parse(text)
    markdown = MarkdownIt()
    benchmark(paginate, script)
    ratio = least_ratio(lambda: paginate(script), lambda: markdown.parse(text), tries=TRIES)
    benchmark.extra_info["ratio to markdown-it-py"] = round(ratio, 2)
    assert ratio <= 3
