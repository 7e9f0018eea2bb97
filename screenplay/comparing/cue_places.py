"""Puts each cue with its speech: where the lines under it went, the cue goes, whatever name it has now."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay.comparing.draft_lines import FREE

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from screenplay.comparing.gaps import Gaps


def put_cues_with_their_speeches(gaps: Gaps) -> None:
    """Take back cues placed where no line of their speech is, and place those whose speech is placed."""
    places = _CuePlaces(gaps)
    places.free_cues_without_their_speech()
    places.place_heads()
    places.place_cues_over_their_speeches()


class _CuePlaces:
    def __init__(self, gaps: Gaps) -> None:
        self.old, self.new = gaps.old, gaps.new

    def free_cues_without_their_speech(self) -> None:
        """A cue goes where its speech goes: placed without any line of it, it would only be the same name elsewhere."""
        for i, j in enumerate(self.old.partner):
            if j != FREE and self.old.is_cue[i] and not self._shares_speech(i, j) and not self._is_in_its_place(i, j):
                self.new.partner[j] = FREE
                self.old.partner[i] = FREE

    def _is_in_its_place(self, i: int, j: int) -> bool:
        """Whether between the placed lines around it, which are the same in both, it is the only cue with its name, or
        the cues are all the same.
        """
        above, below = _placed_around(self.old.partner, i)
        above_new, below_new = _placed_around(self.new.partner, j)
        if (above >= 0) != (above_new >= 0) or (below < len(self.old)) != (below_new < len(self.new)):
            return False
        if above >= 0 and self.old.partner[above] != above_new:
            return False
        if below < len(self.old) and self.old.partner[below] != below_new:
            return False
        names = [self.old.speakers[at] for at in range(above + 1, below) if self.old.is_cue[at]]
        new_names = [self.new.speakers[at] for at in range(above_new + 1, below_new) if self.new.is_cue[at]]
        name = self.old.speakers[i]
        return names == new_names or names.count(name) == new_names.count(name) == 1

    def place_heads(self) -> None:
        """A line that heads a speech stays with it, whatever name it has now."""
        old, new = self.old, self.new
        for i in [i for i, partner in enumerate(old.partner) if partner == FREE]:
            j = old.partner[i + 1] - 1 if i + 1 < len(old) else FREE
            if j >= 0 and new.partner[j] == FREE and (old.is_cue[i] or new.is_cue[j]):
                bound_below = old.bound[i + 1] and new.bound[j + 1]
                heads_both = (old.is_cue[i] or not old.bound[i]) and (new.is_cue[j] or not new.bound[j])
                if bound_below and heads_both and self._may_be_names(i, j):
                    old.partner[i], new.partner[j] = j, i

    def place_cues_over_their_speeches(self) -> None:
        """A cue goes with the first line of its speech that is placed, whatever was put between the two."""
        old, new = self.old, self.new
        for i, partner in enumerate(old.partner):
            if partner == FREE and old.is_cue[i]:
                spoken = (old.partner[at] for at in self._speech_under(i) if old.partner[at] != FREE)
                j = next(map(self._cue_of, spoken), FREE)
                if j != FREE and new.is_cue[j] and new.partner[j] == FREE:
                    old.partner[i], new.partner[j] = j, i

    def _speech_under(self, cue: int) -> Iterator[int]:
        at = cue + 1
        while at < len(self.old) and self.old.bound[at] and not self.old.is_cue[at]:
            yield at
            at += 1

    def _may_be_names(self, i: int, j: int) -> bool:
        """Two cues, or a cue and a line of no more words than it: a name that no longer reads as one."""
        if self.old.is_cue[i] and self.new.is_cue[j]:
            return True
        return abs(len(self.old.texts[i].split()) - len(self.new.texts[j].split())) <= 1

    def _shares_speech(self, i: int, j: int) -> bool:
        spoken = [self.old.partner[at] for at in self._speech_under(i)]
        return not spoken or any(self._is_said_under(j, at) for at in spoken if at != FREE)

    def _is_said_under(self, cue: int, at: int) -> bool:
        return self.new.speakers[at] != "" and self._cue_of(at) == cue

    def _cue_of(self, j: int) -> int:
        while j > 0 and not self.new.is_cue[j] and self.new.bound[j]:
            j -= 1
        return j


def _placed_around(partners: Sequence[int], at: int) -> tuple[int, int]:
    """Positions of the nearest lines above and below that have a partner; -1 and the length where none has."""
    above, below = at - 1, at + 1
    while above >= 0 and partners[above] == FREE:
        above -= 1
    while below < len(partners) and partners[below] == FREE:
        below += 1
    return above, below
