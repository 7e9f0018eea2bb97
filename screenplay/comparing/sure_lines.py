"""Lines that are surely the same: those that each draft has once, and their neighbours as far as they agree."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay.comparing.draft_lines import FREE

if TYPE_CHECKING:
    from collections.abc import Iterable

    from screenplay.comparing.draft_lines import DraftLines
    from screenplay.comparing.two_drafts import TwoDrafts

NEAR_IN_LINES = 12  # lines that may have come between two lines that count as near each other


def place_sure_lines(drafts: TwoDrafts) -> list[tuple[int, int]]:
    """Place the lines that are sure, and give those that turned out to stand away from their neighbours."""
    drafts.pair_those_met_once(_telling(drafts.old), _telling(drafts.new))
    place_equal_neighbours(drafts)
    return _taken_back(drafts)


def _telling(draft: DraftLines) -> Iterable[int]:
    """All but cues and headings, which tell little of where they are."""
    return (at for at in range(len(draft)) if not draft.is_cue[at] and not draft.is_heading[at])


def place_equal_neighbours(drafts: TwoDrafts) -> None:
    """Place equal neighbours of placed lines: answers first; upwards any, downwards all but cues, which belong to what
    follows.

    It stops at a scene heading, beyond which another scene may stand.
    """
    _place_answers(drafts)
    old, new = drafts.old.partner, drafts.new.partner
    old_keys, new_keys = drafts.old.keys, drafts.new.keys
    is_heading, is_cue = drafts.old.is_heading, drafts.old.is_cue
    for i in range(len(old) - 2, -1, -1):
        if old[i] == FREE and old[i + 1] > 0 and not is_heading[i + 1] and not is_heading[i]:
            j = old[i + 1] - 1
            if new[j] == FREE and old_keys[i] == new_keys[j] and drafts.are_said_alike(i, j):
                old[i], new[j] = j, i
    for i in range(1, len(old)):
        if old[i] == FREE and old[i - 1] != FREE and not is_cue[i] and not is_heading[i]:
            j = old[i - 1] + 1
            if j < len(new) and new[j] == FREE and old_keys[i] == new_keys[j] and drafts.are_said_alike(i, j):
                old[i], new[j] = j, i


def _place_answers(drafts: TwoDrafts) -> None:
    """An answer of a few words that is met again and again goes with its question, not with what is asked next."""
    old, new = drafts.old, drafts.new
    for i, j in enumerate(old.partner[:-2]):
        if j == FREE or not old.texts[i].endswith("?") or j + 2 >= len(new):
            continue
        lines = [(i + 1, j + 1), (i + 2, j + 2)]
        if old.is_cue[i + 1] and all(
            old.keys[one] == new.keys[other] and old.partner[one] == FREE == new.partner[other] for one, other in lines
        ):
            for one, other in lines:
                drafts.pair(one, other)


def _taken_back(drafts: TwoDrafts) -> list[tuple[int, int]]:
    """A line away from its neighbours may be a copy of one that was reworded where it stands: that is seen first.

    The longer of them are placed again once the lines in their order are; a short one proves nothing.
    """
    old = drafts.old
    placed = [i for i, j in enumerate(old.partner) if j != FREE]
    partners = [-1, *(old.partner[i] for i in placed), len(drafts.new)]
    bounds = [-1, *placed, len(old)]
    alone: list[tuple[int, int]] = []
    for at in range(1, len(partners) - 1):
        before, j, after = partners[at - 1 : at + 2]
        left, i, right = bounds[at - 1 : at + 2]
        if before + 1 != j and j + 1 != after:
            follows = 0 < j - before <= i - left + NEAR_IN_LINES
            leads = 0 < after - j <= right - i + NEAR_IN_LINES
            if not follows and not leads:
                alone.append((i, j))
    for i, _ in alone:
        drafts.free(i)
    return alone
