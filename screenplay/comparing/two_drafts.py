"""Two drafts side by side: equal lines of theirs have one key, and a line of one can be placed on one of the other."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING

from screenplay.comparing.draft_lines import FREE, DraftLines

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from screenplay.model import Screenplay

ANYBODY_S = 24  # letters of a line that anybody may say: a yes, a no, a name


class TwoDrafts:
    """The lines of an old draft and of a new one, with as much as is known of where each is on the other."""

    def __init__(self, old: Screenplay, new: Screenplay) -> None:
        self.old, self.new = DraftLines(old), DraftLines(new)
        distinct = dict.fromkeys(chain(self.old.texts, self.new.texts))
        self._numbers = {text: number for number, text in enumerate(distinct)}
        for draft in (self.old, self.new):
            draft.keys = list(map(self._numbers.__getitem__, draft.texts))

    def pair(self, i: int, j: int) -> None:
        """Place an old line on a new one."""
        self.old.partner[i] = j
        self.new.partner[j] = i

    def pair_if_free(self, i: int, j: int) -> None:
        """The same, where both are on no other."""
        if self.old.partner[i] == FREE and self.new.partner[j] == FREE:
            self.pair(i, j)

    def free(self, i: int) -> None:
        """Take an old line back from the new one that it is on."""
        self.new.partner[self.old.partner[i]] = FREE
        self.old.partner[i] = FREE

    def write(self, draft: DraftLines, at: int, text: str) -> None:
        """Let a line of either draft be compared by another text than it has."""
        draft.texts[at] = text
        draft.keys[at] = self._numbers.setdefault(text, len(self._numbers))

    def pair_those_met_once(self, old_positions: Iterable[int], new_positions: Iterable[int]) -> None:
        """Place old lines on new ones, each of which is the one with its text among those told."""
        theirs = _once(new_positions, self.new.keys)
        for key, i in _once(old_positions, self.old.keys).items():
            if key in theirs:
                self.pair(i, theirs[key])

    def are_said_alike(self, i: int, j: int) -> bool:
        """Whether two equal lines are one speaker's, or too long for two speakers to say the same."""
        return self.old.speakers[i] == self.new.speakers[j] or len(self.old.texts[i]) > ANYBODY_S


def _once(positions: Iterable[int], keys: Sequence[int]) -> dict[int, int]:
    found: dict[int, int] = {}
    again: set[int] = set()
    for at in positions:
        key = keys[at]
        if key in found:
            again.add(key)
        else:
            found[key] = at
    for key in again:
        del found[key]
    return found
