"""Two drafts: what became of each line and each scene, and which names changed throughout."""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import TYPE_CHECKING

from screenplay.align import Alignment, align
from screenplay.parse import parse
from screenplay.renames import Rename
from screenplay.scene_fates import SceneFate, SceneFateKind, read_backwards, scene_fates
from screenplay.wording import WordChange, word_changes

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from screenplay.model import Screenplay

__all__ = [
    "Comparison",
    "Fate",
    "LineFate",
    "Rename",
    "SceneFate",
    "SceneFateKind",
    "WordChange",
    "compare",
    "word_changes",
]


class Fate(StrEnum):
    """What became of a line, from one draft to the next.

    A line is kept or moved when its words and marks are as they were, white space apart; moved means out of the order
    that most lines keep. Any other change of its text is a rewording, be it a name that changed throughout.
    """

    KEPT = "kept"
    MOVED = "moved"
    REWORDED = "reworded"
    GONE = "gone"
    JOINED = "joined"
    SPLIT = "split"


@dataclass(frozen=True, slots=True)
class LineFate:
    """A line of the old draft and where it is in the new one: several lines if it was split, none if it is gone."""

    old: int
    new: tuple[int, ...]
    fate: Fate


@dataclass(frozen=True)
class Comparison:
    """What lies between two drafts.

    `lines` has a fate for every line of the old draft that is not blank, in order; `added` the lines of the new one,
    not blank, that no old line is on. `scenes` are in the new draft's order, cut ones after what they stood behind.
    `renamed` are the old lines that differ from the new in nothing but names of `renames`. All numbers count from 1.
    """

    old: Screenplay
    new: Screenplay
    lines: tuple[LineFate, ...]
    added: tuple[int, ...]
    scenes: tuple[SceneFate, ...]
    renames: tuple[Rename, ...]
    renamed: frozenset[int] = frozenset()

    @cached_property
    def by_old(self) -> Mapping[int, LineFate]:
        """The fate of each old line that is not blank, by its number."""
        return {fate.old: fate for fate in self.lines}


def compare(old: Screenplay | str, new: Screenplay | str) -> Comparison:
    """Compare two drafts, parsed or not. Never fails, and takes time nearly in proportion to their lengths.

    Comparing back gives the inverse: the same pairs of lines and scenes, the other way round.
    """
    old = parse(old) if isinstance(old, str) else old
    new = parse(new) if isinstance(new, str) else new
    # One way round is worked out, and read backwards for the other, so that both always agree.
    if old.text <= new.text:
        links = _Links.of(align(old, new))
        return _told(old, new, links, scene_fates(old, new, links.pairs, links.changed - links.renamed))
    links = _Links.of(align(new, old))
    scenes = scene_fates(new, old, links.pairs, links.changed - links.renamed)
    return _told(old, new, links.backwards(), read_backwards(scenes))


@dataclass(frozen=True)
class _Links:
    """Pairs of source lines, sorted; those out of order; those whose text changed; those changed by a rename alone."""

    pairs: tuple[tuple[int, int], ...]
    moved: frozenset[tuple[int, int]]
    changed: frozenset[tuple[int, int]]
    renamed: frozenset[tuple[int, int]]
    renames: tuple[Rename, ...]

    @classmethod
    def of(cls, alignment: Alignment) -> _Links:
        old, new = alignment.old, alignment.new
        pairs = tuple((old.numbers[i], new.numbers[j]) for i, j in alignment.pairs)
        changed, renamed = set(), set()
        for (i, j), pair in zip(alignment.pairs, pairs, strict=True):
            if old.written[i] != new.written[j]:
                changed.add(pair)
                if old.texts[i] == new.texts[j]:
                    renamed.add(pair)
        return cls(pairs, frozenset(_out_of_order(pairs)), frozenset(changed), frozenset(renamed), alignment.renames)

    def backwards(self) -> _Links:
        return _Links(
            tuple(sorted((new, old) for old, new in self.pairs)),
            frozenset((new, old) for old, new in self.moved),
            frozenset((new, old) for old, new in self.changed),
            frozenset((new, old) for old, new in self.renamed),
            tuple(Rename(rename.new, rename.old, rename.kind) for rename in self.renames),
        )


def _out_of_order(pairs: Sequence[tuple[int, int]]) -> Iterable[tuple[int, int]]:
    """The fewest pairs without which the rest are in the same order in both drafts."""
    ends: list[int] = []
    last: list[int] = []
    before = [-1] * len(pairs)
    for at, (_, new) in enumerate(pairs):
        place = bisect_right(ends, new)
        before[at] = last[place - 1] if place else -1
        ends[place : place + 1] = [new]
        last[place : place + 1] = [at]
    in_order = set()
    at = last[-1] if last else -1
    while at >= 0:
        in_order.add(at)
        at = before[at]
    return (pair for at, pair in enumerate(pairs) if at not in in_order)


def _told(old: Screenplay, new: Screenplay, links: _Links, scenes: tuple[SceneFate, ...]) -> Comparison:
    targets: dict[int, list[int]] = defaultdict(list)
    sources: dict[int, list[int]] = defaultdict(list)
    for before, after in links.pairs:
        targets[before].append(after)
        sources[after].append(before)
    lines = []
    for number, line in enumerate(old.source, 1):
        if line.strip():
            on = targets.get(number, [])
            lines.append(LineFate(number, tuple(on), _fate(number, on, sources, links)))
    added = [number for number, line in enumerate(new.source, 1) if line.strip() and number not in sources]
    renamed = frozenset(before for before, _ in links.renamed)
    return Comparison(old, new, tuple(lines), tuple(added), scenes, links.renames, renamed)


def _fate(number: int, on: Sequence[int], sources: dict[int, list[int]], links: _Links) -> Fate:
    if not on:
        return Fate.GONE
    if len(on) > 1:
        return Fate.SPLIT
    if len(sources[on[0]]) > 1:
        return Fate.JOINED
    pair = (number, on[0])
    if pair in links.changed:
        return Fate.REWORDED
    return Fate.MOVED if pair in links.moved else Fate.KEPT
