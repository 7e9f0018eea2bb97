"""Lines of one draft that the other has together in one line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay.comparing.draft_lines import FREE, DraftLines

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from screenplay.comparing.gaps import Gaps

GAIN = 2.0  # nats for the one line to be in what the other left of the whole


def joined_lines(gaps: Gaps) -> dict[int, int]:
    """Old lines that the new draft has on their neighbour's line, which they share: position to position."""
    return _Joining(gaps, gaps.old, gaps.new, gaps.old_keys, gaps.new_keys).found()


def split_lines(gaps: Gaps) -> dict[int, int]:
    """New lines that are a further part of an old line: position of the new to position of the old."""
    return _Joining(gaps, gaps.new, gaps.old, gaps.new_keys, gaps.old_keys).found()


class _Joining:
    """Finds lines of the draft `many` that stand together on a line of the draft `one`."""

    def __init__(
        self, gaps: Gaps, many: DraftLines, one: DraftLines, many_keys: Sequence[int], one_keys: Sequence[int]
    ) -> None:
        self.likeness = gaps.likeness
        self.many, self.one = many, one
        self.many_keys, self.one_keys = many_keys, one_keys
        self.on = list(many.partner)
        self.text_on: dict[int, str] = {}
        self.joined: dict[int, int] = {}

    def found(self) -> dict[int, int]:
        """Lines joined as they were first, so that none reworded takes their place."""
        loose = list(self._loose())
        for accepts in (self._goes_on, self._is_in_what_is_left):
            for at in loose:
                self._try(at, at - 1, accepts)
            for at in reversed(loose):
                self._try(at, at + 1, accepts)
        return self.joined

    def _loose(self) -> Iterator[int]:
        """Lines without a partner, or with one that they share no word with."""
        for at, partner in enumerate(self.many.partner):
            if partner == FREE:
                if self._may_join(at) or self.many.is_cue[at]:
                    yield at
            elif self.many_keys[at] != self.one_keys[partner] and self._may_join(at):
                words = self.likeness.words_of
                if not words(self.many.texts[at]) & words(self.one.texts[partner]):
                    yield at

    def _may_join(self, at: int) -> bool:
        return not self.many.is_cue[at] and not self.many.is_heading[at]

    def _try(self, at: int, beside: int, accepts: Callable[[int, str, str, str], bool]) -> None:
        many, one = self.many, self.one
        if at in self.joined or not 0 <= beside < len(self.on) or self.on[beside] == FREE or not self._may_join(beside):
            return
        if many.is_cue[at] and not (beside > at and many.bound[beside]):
            return
        target = self.on[beside]
        if self.many_keys[beside] == self.one_keys[target] or target == self.on[at]:
            return
        whole, text = one.texts[target], many.texts[at]
        before = self.text_on.get(target, many.texts[beside])
        together = f"{before} {text}" if beside < at else f"{text} {before}"
        if before != whole and accepts(at, before, together, whole):
            self.text_on[target] = together
            self.on[at] = self.joined[at] = target

    def _goes_on(self, _at: int, before: str, together: str, whole: str) -> bool:
        """The line next to it goes on where it ends, word for word."""
        if together == whole:
            return True
        likeness = self.likeness
        words = likeness.words_in_order(together)
        return len(words) > len(likeness.words_in_order(before)) and words in likeness.words_in_order(whole)

    def _is_in_what_is_left(self, at: int, before: str, together: str, whole: str) -> bool:
        text, partner = self.many.texts[at], self.many.partner[at]
        if self.many.is_cue[at] and not whole.startswith(text):
            return False
        apart = 0.0
        if partner != FREE:
            apart += max(0.0, self.likeness.between(text, self.one.texts[partner]))
        return self.likeness.within_the_rest(text, before, whole, follows=together.startswith(before)) > apart + GAIN
