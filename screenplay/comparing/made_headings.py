"""Lines that were made scene headings, and headings that were made lines: placed where they have the same words."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from screenplay.comparing.draft_lines import FREE
from screenplay.comparing.moved_lines import SURPRISE_TO_STAND_ALONE
from screenplay.fountain import without_number

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from screenplay.comparing.draft_lines import DraftLines
    from screenplay.comparing.likeness import Likeness
    from screenplay.comparing.two_drafts import TwoDrafts


def place_made_headings(drafts: TwoDrafts, likeness: Likeness) -> None:
    """Place a free heading on a free line of its words that is none, or a line on such a heading.

    They stand beside lines that are the same too; elsewhere each draft has these words once, and no chance explains it.
    """
    old, new = drafts.old, drafts.new
    if not any(draft.partner[at] == FREE for draft in (old, new) for at in draft.headings):
        return
    mine, theirs = _free_by_words(old, likeness), _free_by_words(new, likeness)
    for words in [words for words in mine if words in theirs]:
        positions, there = mine[words], set(theirs[words])
        for i in positions:
            for j in [j for j in _beside_partners(old, i) if j in there and old.is_heading[i] != new.is_heading[j]]:
                drafts.pair_if_free(i, j)
        i, j = positions[0], theirs[words][0]
        is_met_once = len(positions) == len(there) == 1 and old.is_heading[i] != new.is_heading[j]
        if is_met_once and likeness.surprise(old.texts[i]) >= SURPRISE_TO_STAND_ALONE:
            drafts.pair_if_free(i, j)


def _beside_partners(old: DraftLines, i: int) -> Iterator[int]:
    """Where a line would stand between the lines that its neighbours are on."""
    for step in (-1, 1):
        if 0 <= i + step < len(old) and old.partner[i + step] != FREE:
            yield old.partner[i + step] - step


def _free_by_words(draft: DraftLines, likeness: Likeness) -> Mapping[str, list[int]]:
    """The lines on no other, but for cues, by their words in order: a number at a heading's end is none of them."""
    found: defaultdict[str, list[int]] = defaultdict(list)
    for at, partner in enumerate(draft.partner):
        if partner == FREE and not draft.is_cue[at]:
            text = draft.texts[at]
            words = likeness.words_in_order(without_number(text)[0] if draft.is_heading[at] else text)
            if words:
                found[words].append(at)
    return found
