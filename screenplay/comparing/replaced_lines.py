"""Lines of which no word is left, but in whose place another stands: of one speaker, alone between two that stayed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay.comparing.draft_lines import FREE, SPEECH

if TYPE_CHECKING:
    from collections.abc import Collection

    from screenplay.comparing.draft_lines import DraftLines


def replaced_lines(
    old: DraftLines, new: DraftLines, with_words_elsewhere: Collection[tuple[int, int]]
) -> list[tuple[int, int]]:
    """Pairs of positions, old and new, of lines that are on no other: one stands where the other stood in a speech.

    `with_words_elsewhere` are pairs of lines that have words in common beside their partners.
    """
    old_elsewhere, new_elsewhere = {i for i, _ in with_words_elsewhere}, {j for _, j in with_words_elsewhere}
    found: list[tuple[int, int]] = []
    for i, partner in enumerate(old.partner):
        if partner == FREE and old.bound[i] and old.partner[i - 1] != FREE and i not in old_elsewhere:
            j = old.partner[i - 1] + 1
            if j < len(new) and new.partner[j] == FREE and j not in new_elsewhere and _is_replaced(old, new, i, j):
                found.append((i, j))
    return found


def _is_replaced(old: DraftLines, new: DraftLines, i: int, j: int) -> bool:
    """Whether both follow what they follow in one speech, and what comes behind them in it is the same, or its end."""
    is_like = old.kinds[i] is new.kinds[j] in SPEECH and old.speakers[i] == new.speakers[j]
    if not is_like or not new.bound[j]:
        return False
    goes_on = _goes_on(old, i)
    return goes_on == _goes_on(new, j) and (not goes_on or old.partner[i + 1] == j + 1)


def _goes_on(draft: DraftLines, at: int) -> bool:
    """Whether the speech has a line behind this one."""
    return at + 1 < len(draft) and draft.bound[at + 1] and draft.kinds[at + 1] in SPEECH
