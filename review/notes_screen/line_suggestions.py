"""Finding lines in a draft for a note: where its neighbours stand, what reads like its lines, what has given words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rapidfuzz import fuzz, process, utils

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from screenplay.comparing import Comparison

MOST_SUGGESTED = 4
MOST_FOUND = 12
MOST_COMPARED_LINES = 12  # more of a long passage would tell nothing new, and take its time
LEAST_LIKE = 55  # of 100; below it, two passages share little but common words (judged by eye, not a published figure)


@dataclass(frozen=True, slots=True)
class SuggestedLines:
    """Lines of a draft that a note might stand on, and `why`, in a word or two."""

    first_line: int
    last_line: int
    text: str
    why: str = ""


def suggest_lines(
    first: int, last: int, wording: str | None, comparison: Comparison, earlier: Sequence[str], lines: Sequence[str]
) -> list[SuggestedLines]:
    """Where a note on lines `first` to `last` of an earlier draft may stand now: the best guesses first, all apart.

    Lines between those that stood around it come first, then lines that read like the wording it proposed, then lines
    that read like its own.
    """
    stood_on = earlier[first - 1 : last]
    guesses = [
        *lines_in_between(first, last, comparison, lines),
        *likest_lines((wording or "").splitlines(), lines, "Like the wording"),
        *likest_lines(stood_on, lines, "Alike"),
    ]
    return _apart(guesses)[:MOST_SUGGESTED]


def lines_in_between(first: int, last: int, comparison: Comparison, lines: Sequence[str]) -> list[SuggestedLines]:
    """The lines that now stand between the surviving lines just before and just after; none, one candidate at most."""
    kept_before = [fate.new[-1] for fate in comparison.lines if fate.old < first and fate.new]
    kept_after = [fate.new[0] for fate in comparison.lines if fate.old > last and fate.new]
    if not kept_before or not kept_after:
        return []
    between = [n for n in range(kept_before[-1] + 1, kept_after[0]) if lines[n - 1].strip()]
    if not between or len(between) > MOST_COMPARED_LINES:
        return []
    return [_candidate(lines, between[0], between[-1], "In the same spot")]


def _apart(guesses: Iterable[SuggestedLines]) -> list[SuggestedLines]:
    """Those that overlap no earlier one."""
    apart: list[SuggestedLines] = []
    for guess in guesses:
        if all(guess.last_line < other.first_line or guess.first_line > other.last_line for other in apart):
            apart.append(guess)
    return apart


def likest_lines(passage: Sequence[str], lines: Sequence[str], why: str = "") -> list[SuggestedLines]:
    """The stretches of `lines` most like the passage, the likest first, none overlapping a likelier one.

    A stretch has as many lines that are not blank as the passage. Likeness is rapidfuzz's token_sort_ratio: how alike
    the words are whatever their order.
    """
    wanted = [line for line in passage if line.strip()][:MOST_COMPARED_LINES]
    written = [number for number, line in enumerate(lines, 1) if line.strip()]
    if not wanted or not written:
        return []
    size = min(len(wanted), len(written))
    stretches = [written[start : start + size] for start in range(len(written) - size + 1)]
    likest = process.extract(
        " ".join(wanted),
        [" ".join(lines[number - 1] for number in stretch) for stretch in stretches],
        scorer=fuzz.token_sort_ratio,
        processor=utils.default_process,
        limit=MOST_SUGGESTED * (2 * size + 1),
        score_cutoff=LEAST_LIKE,
    )
    found = [_candidate(lines, stretches[at][0], stretches[at][-1], why) for _, _, at in likest]
    return _apart(found)[:MOST_SUGGESTED]


def lines_with(words: str, lines: Sequence[str]) -> list[SuggestedLines]:
    """The first lines that have all these words, or parts of words, whatever their case."""
    wanted = words.casefold().split()
    found: list[SuggestedLines] = []
    for number, line in enumerate(lines, 1):
        if len(found) == MOST_FOUND:
            break
        if wanted and all(word in line.casefold() for word in wanted):
            found.append(_candidate(lines, number, number))
    return found


def _candidate(lines: Sequence[str], first: int, last: int, why: str = "") -> SuggestedLines:
    return SuggestedLines(first, last, "\n".join(line.strip() for line in lines[first - 1 : last]), why)
