"""What became of each scene, told from where its lines are."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from screenplay.comparing.ordering import in_order

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Sequence

    from screenplay.comparing.draft_lines import DraftLines

PART = 0.25  # of a scene's lines, for a share of it to count as a part of it
HEADING_COUNTS = 3  # lines
WHOLE = 0.5  # of the other scene's lines, for it to be made of that part


class SceneFateKind(StrEnum):
    """What became of a scene. Where several hold, the first of split, merged, moved, renamed, reworded is told."""

    KEPT = "kept"
    REWORDED = "reworded"
    MOVED = "moved"
    RENAMED = "renamed"
    SPLIT = "split"
    MERGED = "merged"
    CUT = "cut"
    ADDED = "added"


@dataclass(frozen=True, slots=True)
class SceneFate:
    """A scene of the old draft and one of the new, by ordinal; None where a draft has none.

    A split scene is told once for each part, scenes merged once for each that went in.
    """

    old: int | None
    new: int | None
    fate: SceneFateKind


def scene_fates(
    old: DraftLines, new: DraftLines, targets: Sequence[tuple[int, ...]], changed: Collection[tuple[int, int]]
) -> tuple[SceneFate, ...]:
    """Fates of all scenes of both drafts, from where each line is and those of these pairs whose text changed.

    In the new draft's order; a cut scene stands behind the one it stood behind in the old draft.
    """
    return _Scenes(old, new, targets, changed).fates()


_BACKWARDS = {
    SceneFateKind.SPLIT: SceneFateKind.MERGED,
    SceneFateKind.MERGED: SceneFateKind.SPLIT,
    SceneFateKind.CUT: SceneFateKind.ADDED,
    SceneFateKind.ADDED: SceneFateKind.CUT,
}


def read_backwards(fates: Iterable[SceneFate]) -> tuple[SceneFate, ...]:
    """The same fates told of the two drafts the other way round."""
    turned = [SceneFate(fate.new, fate.old, _BACKWARDS.get(fate.fate, fate.fate)) for fate in fates]
    told = [fate for fate in turned if fate.new is not None]
    return _in_reading_order(told, [fate for fate in turned if fate.new is None])


class _Scenes:
    def __init__(
        self, old: DraftLines, new: DraftLines, targets: Sequence[tuple[int, ...]], changed: Collection[tuple[int, int]]
    ) -> None:
        self.old_lines, self.new_lines = _line_counts(old), _line_counts(new)
        theirs = new.scenes
        in_scenes = [(scene, theirs[j]) for scene, on in zip(old.scenes, targets, strict=True) if scene for j in on]
        self.shared = Counter([pair for pair in in_scenes if pair[1]])
        self.headings_paired = {
            (old.scenes[i], theirs[j])
            for i, heading in enumerate(old.is_heading)
            if heading
            for j in targets[i]
            if new.is_heading[j]
        }
        self.changed: set[tuple[int, int]] = set()
        self.renamed: set[tuple[int, int]] = set()
        for i, j in changed:
            of = self.renamed if old.is_heading[i] and new.is_heading[j] else self.changed
            of.add((old.scenes[i], new.scenes[j]))
        self.placed_old: Counter[int] = Counter()
        self.placed_new: Counter[int] = Counter()
        for (before, after), count in self.shared.items():
            self.placed_old[before] += count
            self.placed_new[after] += count

    def fates(self) -> tuple[SceneFate, ...]:
        links = self._links()
        of_old, of_new = defaultdict(list), defaultdict(list)
        for before, after in links:
            of_old[before].append(after)
            of_new[after].append(before)
        single = [(before, after) for before, after in links if len(of_old[before]) == len(of_new[after]) == 1]
        moved = _out_of_order(single, self.shared)
        told = [SceneFate(before, after, self._fate(before, after, of_old, of_new, moved)) for before, after in links]
        told += [SceneFate(None, after, SceneFateKind.ADDED) for after in self.new_lines if after not in of_new]
        cut = [SceneFate(before, None, SceneFateKind.CUT) for before in self.old_lines if before not in of_old]
        return _in_reading_order(told, cut)

    def _fate(
        self,
        before: int,
        after: int,
        of_old: dict[int, list[int]],
        of_new: dict[int, list[int]],
        moved: Collection[tuple[int, int]],
    ) -> SceneFateKind:
        pair = (before, after)
        if len(of_old[before]) > 1:
            return SceneFateKind.SPLIT
        if len(of_new[after]) > 1:
            return SceneFateKind.MERGED
        if pair in moved:
            return SceneFateKind.MOVED
        if pair in self.renamed or pair not in self.headings_paired:
            return SceneFateKind.RENAMED
        whole = self.shared[pair] == self.old_lines[before] == self.new_lines[after]
        return SceneFateKind.REWORDED if pair in self.changed or not whole else SceneFateKind.KEPT

    def _links(self) -> list[tuple[int, int]]:
        """Which scenes are which: most lines in common both ways, and parts that make up a scene of their own."""
        ranked = sorted(self.shared, key=lambda pair: (-self._weight(pair), pair))
        best_new: dict[int, int] = {}
        best_old: dict[int, int] = {}
        for before, after in ranked:
            best_new.setdefault(before, after)
            best_old.setdefault(after, before)
        links = {(before, after) for before, after in best_new.items() if best_old[after] == before}
        for before, after in ranked:
            count = self.shared[before, after]
            is_part = count >= PART * self.old_lines[before] and count >= WHOLE * self.placed_new[after]
            is_whole = count >= PART * self.new_lines[after] and count >= WHOLE * self.placed_old[before]
            if count > 1 and ((is_part and best_old[after] == before) or (is_whole and best_new[before] == after)):
                links.add((before, after))
        return sorted(links)

    def _weight(self, pair: tuple[int, int]) -> int:
        """Lines in common, the heading counted as several."""
        return self.shared[pair] + (HEADING_COUNTS - 1 if pair in self.headings_paired else 0)


def _line_counts(draft: DraftLines) -> dict[int, int]:
    return {scene: count for scene, count in Counter(draft.scenes).items() if scene}


def _out_of_order(pairs: Sequence[tuple[int, int]], lines: Counter[tuple[int, int]]) -> set[tuple[int, int]]:
    """The scenes, fewest first and then those with the fewest lines, without which the rest keep their order."""
    more_than_any = 1 + sum(lines[pair] for pair in pairs)
    chain = in_order([after for _, after in pairs], [more_than_any + lines[pair] for pair in pairs])
    return set(pairs).difference([pairs[at] for at in chain])


def _in_reading_order(told: Iterable[SceneFate], cut: Iterable[SceneFate]) -> tuple[SceneFate, ...]:
    cut_after: dict[int, SceneFate] = {(fate.old or 0) - 1: fate for fate in cut}
    ordered = sorted(told, key=lambda fate: (fate.new or 0, fate.old or 0))
    last_of_old = {fate.old: at for at, fate in enumerate(ordered) if fate.old is not None}
    placed = list(_cut_behind(cut_after, 0))
    for at, fate in enumerate(ordered):
        placed.append(fate)
        if fate.old is not None and last_of_old[fate.old] == at:
            placed += _cut_behind(cut_after, fate.old)
    return tuple(placed)


def _cut_behind(cut_after: dict[int, SceneFate], scene: int) -> Iterator[SceneFate]:
    while scene in cut_after:
        yield cut_after[scene]
        scene += 1
