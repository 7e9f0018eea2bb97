"""Whether an answer takes from the pages what its writer meant: of choices this can be worked out, not of words."""

from __future__ import annotations

from enum import StrEnum


class Verdict(StrEnum):
    """What became of what the writer meant, in one reader."""

    CAME_ACROSS = "came across"
    PARTLY = "partly"
    MISSED = "missed"


def verdict_of_choice(given: str, intended: str) -> Verdict:
    """Of several answers the intended one came across, and any other missed."""
    return Verdict.CAME_ACROSS if given == intended else Verdict.MISSED


def verdict_on_scale(given: int, intended: int) -> Verdict:
    """On a scale the step that was meant came across, one beside it partly, any further missed. The rule is ours."""
    distance = abs(given - intended)
    if distance == 0:
        return Verdict.CAME_ACROSS
    return Verdict.PARTLY if distance == 1 else Verdict.MISSED
