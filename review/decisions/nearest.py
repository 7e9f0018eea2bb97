"""Finding lines in a draft: those most like lines that were elsewhere, and those with given words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rapidfuzz import fuzz, process, utils

if TYPE_CHECKING:
    from collections.abc import Sequence

MOST_SUGGESTED = 4
MOST_FOUND = 30
MOST_COMPARED_LINES = 12  # more of a long passage would tell nothing new, and take its time
LEAST_LIKE = 45  # of 100; below it, two passages share little but common words (judged by eye, not a published figure)


@dataclass(frozen=True, slots=True)
class Candidate:
    """Lines of a draft that a note might stand on; `likeness` runs from 0 to 100."""

    first_line: int
    last_line: int
    text: str
    likeness: int = 0


def nearest_lines(passage: Sequence[str], lines: Sequence[str]) -> list[Candidate]:
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
    candidates: list[Candidate] = []
    for _, likeness, at in likest:
        first, last = stretches[at][0], stretches[at][-1]
        if all(last < other.first_line or first > other.last_line for other in candidates):
            candidates.append(_candidate(lines, first, last, round(likeness)))
    return candidates[:MOST_SUGGESTED]


def lines_with(words: str, lines: Sequence[str]) -> list[Candidate]:
    """The first lines that have all these words, or parts of words, whatever their case."""
    wanted = words.casefold().split()
    found: list[Candidate] = []
    for number, line in enumerate(lines, 1):
        if len(found) == MOST_FOUND:
            break
        if wanted and all(word in line.casefold() for word in wanted):
            found.append(_candidate(lines, number, number))
    return found


def _candidate(lines: Sequence[str], first: int, last: int, likeness: int = 0) -> Candidate:
    return Candidate(first, last, "\n".join(line.strip() for line in lines[first - 1 : last]), likeness)
