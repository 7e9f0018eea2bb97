"""What became of each scene."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator

    from screenplay.comparing.scene_links import Pair, SceneLinks


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

    A split scene is told once for each part, scenes merged once for each that went in. `is_moved` holds of those too
    that moved and are told as split or merged.
    """

    old: int | None
    new: int | None
    fate: SceneFateKind
    is_moved: bool = False


def scene_fates(links: SceneLinks, changed: Collection[Pair], renamed: Collection[Pair]) -> tuple[SceneFate, ...]:
    """Fates of all scenes of both drafts, from which is which, and in which a line that prints, or the heading, came,
    went or is another: what never prints is no change of a scene.

    In the new draft's order; a cut scene stands behind the one it stood behind in the old draft.
    """
    told = [SceneFate(*pair, _fate(links, pair, changed, renamed), pair in links.moved) for pair in links.all]
    told += [SceneFate(None, after, SceneFateKind.ADDED) for after in links.new_lines if after not in links.of_new]
    cut = [SceneFate(before, None, SceneFateKind.CUT) for before in links.old_lines if before not in links.of_old]
    return _in_reading_order(told, cut)


def _fate(links: SceneLinks, pair: Pair, changed: Collection[Pair], renamed: Collection[Pair]) -> SceneFateKind:
    before, after = pair
    if len(links.of_old[before]) > 1:
        return SceneFateKind.SPLIT
    if len(links.of_new[after]) > 1:
        return SceneFateKind.MERGED
    if pair in links.moved:
        return SceneFateKind.MOVED
    if pair in renamed or pair not in links.by_heading:
        return SceneFateKind.RENAMED
    is_whole = links.shared[pair] == links.old_lines[before] == links.new_lines[after]
    return SceneFateKind.KEPT if is_whole and pair not in changed else SceneFateKind.REWORDED


_BACKWARDS = {
    SceneFateKind.SPLIT: SceneFateKind.MERGED,
    SceneFateKind.MERGED: SceneFateKind.SPLIT,
    SceneFateKind.CUT: SceneFateKind.ADDED,
    SceneFateKind.ADDED: SceneFateKind.CUT,
}


def read_backwards(fates: Iterable[SceneFate]) -> tuple[SceneFate, ...]:
    """The same fates told of the two drafts the other way round."""
    turned = [SceneFate(fate.new, fate.old, _BACKWARDS.get(fate.fate, fate.fate), fate.is_moved) for fate in fates]
    told = [fate for fate in turned if fate.new is not None]
    return _in_reading_order(told, [fate for fate in turned if fate.new is None])


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
