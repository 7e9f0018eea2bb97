"""How long it takes to put two rewrites of a script together: against the two comparisons it needs, in the same run."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay import compare, parse
from screenplay.next_draft import merge
from tests.bench.stopwatch import least_ratio
from tests.plays import play_as_fountain
from tests.rewrite import revise_play

if TYPE_CHECKING:
    from screenplay import Screenplay

MOST_OF_TWO_COMPARISONS = 1.75  # what it does beside them is read lines and write them
MOST_FOR_FIVE_TIMES_THE_TEXT = 7.5


def two_rewrites(text: str) -> tuple[Screenplay, Screenplay, Screenplay]:
    other = play_as_fountain("king-lear")
    return parse(text), parse(revise_play(text, 1, other=other).new), parse(revise_play(text, 2, other=other).new)


def test_two_rewrites_are_put_together_in_about_the_time_of_two_comparisons() -> None:
    base, ours, theirs = two_rewrites(play_as_fountain("hamlet"))
    ratio = least_ratio(
        lambda: merge(base, ours, theirs),
        lambda: (compare(base, ours), compare(base, theirs)),
        enough=MOST_OF_TWO_COMPARISONS,
    )
    print(f"\nmerging takes {ratio:.2f} of the time of two comparisons")  # noqa: T201 - the report
    assert ratio <= MOST_OF_TWO_COMPARISONS


def test_five_times_the_text_takes_no_more_than_seven_and_a_half_times_as_long() -> None:
    play = play_as_fountain("hamlet")
    body = play.split("\n\n", 1)[1]
    fivefold = play + "".join(_with_its_own_lines(body, act) for act in range(4))
    short, long = two_rewrites(play), two_rewrites(fivefold)
    ratio = least_ratio(lambda: merge(*long), lambda: merge(*short), enough=MOST_FOR_FIVE_TIMES_THE_TEXT)
    assert ratio <= MOST_FOR_FIVE_TIMES_THE_TEXT


def _with_its_own_lines(body: str, number: int) -> str:
    """The text with a word at the end of each line of speech, so that its lines are not those of another part."""
    lines = (line if not line or line.isupper() or line[0] in ".#" else f"{line} {number}" for line in body.split("\n"))
    return "\n".join(lines)
