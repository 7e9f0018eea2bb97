"""Which scene of one draft is which of the other, judged by the lines they share."""

from __future__ import annotations

from collections import Counter, defaultdict
from typing import TYPE_CHECKING

from screenplay.fountain import without_number

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from screenplay.comparing.draft_lines import DraftLines

HEADING_COUNTS = 3  # lines that a heading is worth, where each draft has it once
HALF = 0.5
NOWHERE = -1  # no scene
ENOUGH = 0.2  # of the lines placed so far of one of two scenes, for the two to have to do with each other


class ScenePairs:
    """Counts of placed lines, by the scenes they are in. Scene 0 is what stands before the first heading.

    `lines` has them by pairs of scenes, `shared` with what equal headings are worth added.
    """

    def __init__(self, old: DraftLines, new: DraftLines) -> None:
        theirs = [*new.scenes, NOWHERE]  # which is where FREE, the last, leads
        self.lines = Counter(zip(old.scenes, map(theirs.__getitem__, old.partner), strict=True))
        for pair in [pair for pair in self.lines if pair[1] == NOWHERE]:
            del self.lines[pair]
        self.shared = self.lines.copy()
        for pair in _with_equal_headings(old, new):
            self.shared[pair] += HEADING_COUNTS
        self.of_old: Counter[int] = Counter()
        self.of_new: Counter[int] = Counter()
        self.best_new: dict[int, int] = {}
        self.best_old: dict[int, int] = {}
        self._sharing: defaultdict[int, list[int]] = defaultdict(list)
        for (scene, partner), count in sorted(self.shared.items(), key=lambda item: (-item[1], item[0])):
            self.of_old[scene] += count
            self.of_new[partner] += count
            self.best_new.setdefault(scene, partner)
            self.best_old.setdefault(partner, scene)
            self._sharing[scene].append(partner)

    def mutual(self) -> list[tuple[int, int]]:
        """Pairs of scenes each of which shares more lines with the other than with any third, by old ordinal."""
        return sorted((old, new) for old, new in self.best_new.items() if self.best_old[new] == old)

    def compatible(self, old: int, new: int) -> bool:
        """Whether a line of one may be in the other: they share a fair part of what is placed, or none."""
        count = self.shared[old, new]
        if not count:
            return old not in self.best_new and new not in self.best_old
        return count >= ENOUGH * min(self.of_old[old], self.of_new[new]) or self.best_new[old] == new

    def in_company(self, old: Collection[int], new: Collection[int]) -> tuple[set[int], set[int]]:
        """Of scenes of both drafts, those that are compatible with one of the other draft's.

        Takes time in proportion to their number, where few share lines with many.
        """
        pairs = [(scene, partner) for scene in old for partner in self._sharing.get(scene, ()) if partner in new]
        company = [pair for pair in pairs if self.compatible(*pair)]
        alone_old = [scene for scene in old if scene not in self.best_new]
        alone_new = [scene for scene in new if scene not in self.best_old]
        return (
            {scene for scene, _ in company}.union(alone_old if alone_new else ()),
            {partner for _, partner in company}.union(alone_new if alone_old else ()),
        )


def headings_that_stand(old: DraftLines, new: DraftLines, pairs: ScenePairs) -> list[tuple[int, int]]:
    """Which scene's heading each new scene has, as pairs of scenes, for no scene twice.

    The same heading goes before any other, however many lines of another scene stand under it now: first over at least
    half of either scene's lines, where of several scenes that came together under it the one with its number is it, or
    the first; then over the scene's most. Any other heading goes where most lines went both ways.
    """
    old_headings, new_headings = _headings(old), _headings(new)
    old_numbered, new_numbered = _numbered(old), _numbered(new)
    old_bodies, new_bodies = _bodies(old), _bodies(new)
    same, most = [], []
    for (before, after), count in pairs.shared.items():
        if before and after and old_headings[before] == new_headings[after]:
            lines = pairs.lines[before, after]
            all_went, all_came = pairs.best_new[before] == after, pairs.best_old[after] == before
            if lines and lines >= min(old_bodies[before], new_bodies[after]) * HALF and (all_went or all_came):
                same.append((old_numbered[before] != new_numbered[after], before, after))
            elif all_went or all_came:
                most.append((-count, before, after))
    found: dict[int, int] = {}
    taken: set[int] = set()
    ranked = [(before, after) for _, before, after in [*sorted(same), *sorted(most)]]
    for before, after in [*ranked, *pairs.mutual()]:
        if before and after and before not in found and after not in taken:
            found[before] = after
            taken.add(after)
    return sorted(found.items())


def _numbered(draft: DraftLines) -> dict[int, str]:
    """The heading of each scene, with its number if it has one."""
    return {draft.scenes[at]: draft.texts[at] for at in draft.headings}


def _headings(draft: DraftLines) -> dict[int, str]:
    return {scene: without_number(text)[0].casefold() for scene, text in _numbered(draft).items()}


def _bodies(draft: DraftLines) -> Counter[int]:
    """How many lines each scene has under its heading."""
    bodies = Counter(draft.scenes)
    bodies.subtract(draft.scenes[at] for at in draft.headings)
    return bodies


def _with_equal_headings(old: DraftLines, new: DraftLines) -> Iterator[tuple[int, int]]:
    """Pairs of scenes with the same heading, where each draft has it once."""
    theirs = _headings_met_once(new)
    for heading, scene in _headings_met_once(old).items():
        if heading in theirs:
            yield scene, theirs[heading]


def _headings_met_once(draft: DraftLines) -> dict[str, int]:
    scenes: dict[str, list[int]] = {}
    for at in draft.headings:
        scenes.setdefault(draft.texts[at], []).append(draft.scenes[at])
    return {heading: found[0] for heading, found in scenes.items() if len(found) == 1}
