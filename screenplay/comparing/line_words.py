"""The words of the lines of a draft, in order, and which of them are covered by lines of the other draft."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from screenplay.comparing.draft_lines import FREE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from screenplay.comparing.draft_lines import DraftLines
    from screenplay.comparing.likeness import Likeness

LINES_BETWEEN = 12  # lines that may have come between two stretches of one line


class LineWords:
    """The lines of one draft, each word a character, with those that are covered blotted out in what is `left`.

    `changed` has the partner of each line that is on one of another
    text; `further` the lines of the other draft that a line was found to be on beside its partner. A character that
    stands for no word, and for nothing in the other draft, blots out.
    """

    def __init__(self, draft: DraftLines, likeness: Likeness, blot: str) -> None:
        self.draft = draft
        self.changed: dict[int, int] = {}
        self.further: dict[int, list[int]] = {}
        self._likeness, self._blot = likeness, blot
        self._left: dict[int, str] = {}

    def may_share(self, at: int) -> bool:
        """Whether words of a line may be on several: not those of a cue or of a heading."""
        draft = self.draft
        return not draft.is_cue[at] and not draft.is_heading[at]

    @cached_property
    def free(self) -> list[int]:
        """The lines without a partner, before any was given up, whose words may be on others."""
        return [at for at, partner in enumerate(self.draft.partner) if partner == FREE and self.may_share(at)]

    def all(self, at: int) -> str:
        return self._likeness.words_in_order(self.draft.texts[at])

    def left(self, at: int) -> str:
        found = self._left.get(at)
        return self.all(at) if found is None else found

    def segments(self, at: int) -> Iterator[tuple[int, str]]:
        """The words of a line that are left, run by run, each with where it starts."""
        start = 0
        for segment in self.left(at).split(self._blot):
            if segment:
                yield start, segment
            start += len(segment) + 1

    def blot_out(self, at: int, start: int, length: int) -> None:
        left = self.left(at)
        self._left[at] = left[:start] + self._blot * length + left[start + length :]

    def on(self, at: int) -> list[int]:
        """The lines of the other draft that a line is on."""
        partner = self.draft.partner[at]
        return [*([] if partner == FREE else [partner]), *self.further.get(at, ())]

    def put_on(self, at: int, to: int) -> None:
        self.further.setdefault(at, []).append(to)

    def line_beside(self, at: int, step: int) -> int | None:
        """The nearest line above (step -1) or below (1), in its scene, that is on a line of the other draft: no cue,
        which goes with what is said under it."""
        draft = self.draft
        for beside in range(at + step, at + step * LINES_BETWEEN, step):
            if not 0 <= beside < len(draft) or draft.scenes[beside] != draft.scenes[at] or draft.is_heading[beside]:
                return None
            if (draft.partner[beside] != FREE or beside in self.further) and not draft.is_cue[beside]:
                return beside
        return None

    def is_next(self, at: int, to: int) -> bool:
        """Whether two lines are next to each other, or one speaker's."""
        return abs(at - to) == 1 or self.draft.speakers[at] == self.draft.speakers[to] != ""
