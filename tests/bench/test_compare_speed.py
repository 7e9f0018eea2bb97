"""How long a comparison takes: against difflib's time over the same lines in the same run, and against the length."""

from __future__ import annotations

import random
from difflib import SequenceMatcher
from typing import TYPE_CHECKING

import pytest

from screenplay import compare, parse
from tests.bench.stopwatch import least_ratio, least_seconds, least_until, seconds
from tests.plays import play_as_fountain
from tests.rewrite import revise_play

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytest_benchmark.fixture import BenchmarkFixture

MOST_OF_DIFFLIB = 1 / 3
MOST_FOR_TEN_TIMES_THE_TEXT = 15
MOST_FOR_FOUR_TIMES_THE_SCENES = 8


def share_of_difflib(old: str, new: str) -> float:
    """The time to read and compare two drafts, as a share of difflib's over their lines."""
    lines = old.splitlines(), new.splitlines()
    theirs = seconds(lambda: SequenceMatcher(None, *lines, autojunk=False).get_opcodes())
    return least_until(lambda: compare(old, new), enough=MOST_OF_DIFFLIB * theirs) / theirs


def test_a_rewrite_takes_a_third_of_difflib_s_time_at_most(benchmark: BenchmarkFixture) -> None:
    revision = revise_play(play_as_fountain("hamlet"), 1, other=play_as_fountain("king-lear"))
    old, new = parse(revision.old), parse(revision.new)
    benchmark(compare, old, new)
    ratio = share_of_difflib(revision.old, revision.new)
    benchmark.extra_info["ratio to difflib, reading included"] = round(ratio, 2)
    assert ratio <= MOST_OF_DIFFLIB


def test_two_unrelated_scripts_take_a_third_of_difflib_s_time_at_most() -> None:
    assert share_of_difflib(play_as_fountain("hamlet"), play_as_fountain("king-lear")) <= MOST_OF_DIFFLIB


def test_ten_thousand_equal_lines_take_a_third_of_difflib_s_time_for_three_thousand() -> None:
    """Its time for equal lines grows with the square of their number: ten thousand would take it half a minute."""
    few, theirs = _equal_lines(3_000), _equal_lines(3_000, changed=0.01)
    peer = seconds(lambda: SequenceMatcher(None, few, theirs, autojunk=False).get_opcodes())
    many = "\n".join(_equal_lines(10_000)), "\n".join(_equal_lines(9_500, changed=0.01))
    most = MOST_OF_DIFFLIB * peer
    assert least_until(lambda: compare(*many), enough=most) <= most


def _equal_lines(count: int, *, changed: float = 0.0) -> list[str]:
    rng = random.Random(1)
    return ["The bell rings." if rng.random() >= changed else f"The bell stops {rng.random()}." for _ in range(count)]


def test_nothing_at_all_against_a_script_takes_no_longer_than_a_fifth_of_a_rewrite() -> None:
    revision = revise_play(play_as_fountain("hamlet"), 1)
    old, new, empty = parse(revision.old), parse(revision.new), parse("")
    rewrite, cut, added = least_seconds(
        lambda: compare(old, new), lambda: compare(old, empty), lambda: compare(empty, new)
    )
    assert cut <= rewrite / 5
    assert added <= rewrite / 5


def test_ten_times_the_text_takes_no_more_than_fifteen_times_as_long() -> None:
    def rewrite(text: str) -> Callable[[], object]:
        revision = revise_play(text, 1)
        old, new = parse(revision.old), parse(revision.new)
        return lambda: compare(old, new)

    play = play_as_fountain("hamlet")
    body = play.split("\n\n", 1)[1]
    tenfold = play + "".join(_with_its_own_lines(body, act) for act in range(9))
    ratio = least_ratio(rewrite(tenfold), rewrite(play), enough=MOST_FOR_TEN_TIMES_THE_TEXT)
    assert ratio <= MOST_FOR_TEN_TIMES_THE_TEXT


@pytest.mark.parametrize("place", ["HALL", "ROOM"])
def test_four_times_as_many_bare_headings_take_no_more_than_eight_times_as_long(place: str) -> None:
    """A list of scenes still to be written, every one of them renamed, or only moved to another time of day."""

    def renamed(count: int) -> Callable[[], object]:
        old, new = (
            parse("\n\n".join(f"INT. {name} {number} - {time}" for number in range(count)) + "\n")
            for name, time in (("ROOM", "DAY"), (place, "NIGHT"))
        )
        return lambda: compare(old, new)

    ratio = least_ratio(renamed(4_000), renamed(1_000), enough=MOST_FOR_FOUR_TIMES_THE_SCENES)
    assert ratio <= MOST_FOR_FOUR_TIMES_THE_SCENES


def _with_its_own_lines(body: str, number: int) -> str:
    """The text with a word at the end of each line of speech, so that its lines are not those of another part."""
    lines = (line if not line or line.isupper() or line[0] in ".#" else f"{line} {number}" for line in body.split("\n"))
    return "\n".join(lines)
