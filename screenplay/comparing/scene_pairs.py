"""Which scene of one draft is which of the other, judged by the lines they share."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from screenplay.comparing.draft_lines import FREE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from screenplay.comparing.draft_lines import DraftLines

HEADING_COUNTS = 3  # lines that a heading is worth, where each draft has it once
ENOUGH = 0.2  # of the lines placed so far of one of two scenes, for the two to have to do with each other


class ScenePairs:
    """Counts of placed lines, by the scenes they are in. Scene 0 is what stands before the first heading."""

    def __init__(self, old: DraftLines, new: DraftLines) -> None:
        theirs = new.scenes
        placed = [(scene, theirs[j]) for scene, j in zip(old.scenes, old.partner, strict=True) if j != FREE]
        self.shared = Counter(placed)
        for pair in _with_equal_headings(old, new):
            self.shared[pair] += HEADING_COUNTS
        self.of_old: Counter[int] = Counter()
        self.of_new: Counter[int] = Counter()
        self.best_new: dict[int, int] = {}
        self.best_old: dict[int, int] = {}
        for (scene, partner), count in sorted(self.shared.items(), key=lambda item: (-item[1], item[0])):
            self.of_old[scene] += count
            self.of_new[partner] += count
            self.best_new.setdefault(scene, partner)
            self.best_old.setdefault(partner, scene)

    def mutual(self) -> list[tuple[int, int]]:
        """Pairs of scenes each of which shares more lines with the other than with any third, by old ordinal."""
        return sorted((old, new) for old, new in self.best_new.items() if self.best_old[new] == old)

    def compatible(self, old: int, new: int) -> bool:
        """Whether a line of one may be in the other: they share a fair part of what is placed, or none."""
        count = self.shared[old, new]
        if not count:
            return old not in self.best_new and new not in self.best_old
        return count >= ENOUGH * min(self.of_old[old], self.of_new[new]) or self.best_new[old] == new


def _with_equal_headings(old: DraftLines, new: DraftLines) -> Iterator[tuple[int, int]]:
    """Pairs of scenes with the same heading, where each draft has it once."""
    theirs = _headings_met_once(new)
    for heading, scene in _headings_met_once(old).items():
        if heading in theirs:
            yield scene, theirs[heading]


def _headings_met_once(draft: DraftLines) -> dict[str, int]:
    scenes: dict[str, list[int]] = {}
    for at, heading in enumerate(draft.is_heading):
        if heading:
            scenes.setdefault(draft.texts[at], []).append(draft.scenes[at])
    return {heading: found[0] for heading, found in scenes.items() if len(found) == 1}
