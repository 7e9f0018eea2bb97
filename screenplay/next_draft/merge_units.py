"""The units that a script is merged by: each scene from its heading on, and what stands right above a heading.

Sections, synopses and notes between two scenes are of neither's words: they go where a version put them, with the scene
below or with the one above, and so they are a unit of their own.
"""

from __future__ import annotations

from collections import Counter
from itertools import accumulate
from typing import TYPE_CHECKING, NamedTuple

from screenplay.model import Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from screenplay.comparing import Comparison
    from screenplay.model import Screenplay

HEADING_COUNTS = 3  # lines that a heading in common is worth, where a scene might be either of two
_STAND_ABOVE = frozenset({Kind.SECTION, Kind.SYNOPSIS, Kind.NOTE})


class Units:
    """The units of a script by ordinal, 0 for what stands before the first: `of` has one for each source line, and
    `above` are those that stand above a heading, each the one before its scene."""

    def __init__(self, script: Screenplay) -> None:
        headings = _first_lines(script)
        starts = {heading: _start_above(script, heading) for heading in headings}
        begins = sorted({*starts, *starts.values()})
        first = set(begins)
        self.of = tuple(accumulate(int(line in first) for line in range(len(script.source))))
        self.count = 1 + len(begins)
        self.above = frozenset(self.of[start] for heading, start in starts.items() if start < heading)
        self.of_scene = (0, *(self.of[heading] for heading in headings))


def _first_lines(script: Screenplay) -> list[int]:
    """The position of each scene's first line."""
    scene_of = script.scene_of
    return [at for at, scene in enumerate(scene_of) if scene != (scene_of[at - 1] if at else 0)]


def _start_above(script: Screenplay, heading: int) -> int:
    """Where what stands above a heading begins, apart from the words before it; at the heading if nothing does."""
    kinds = script.kinds
    start = at = heading
    while at and (kinds[at - 1] is Kind.BLANK or kinds[at - 1] in _STAND_ABOVE):
        at -= 1
        if kinds[at] is not Kind.BLANK and (not at or kinds[at - 1] is Kind.BLANK):
            start = at
    return start


class UnitLinks(NamedTuple):
    """What units of two drafts have to do with each other: how many lines an old one and a new one share, and which are
    the same one, each in one pair: where one was split or merged, that with most in common."""

    shared: Mapping[tuple[int, int], int]
    pairs: list[tuple[int, int]]


def link_units(comparison: Comparison, old: Units, new: Units) -> UnitLinks:
    """The units of two drafts that share lines, and those that are the same one."""
    shared = Counter((old.of[fate.old - 1], new.of[line - 1]) for fate in comparison.lines for line in fate.new)
    scenes = {
        (old.of_scene[scene.old], new.of_scene[scene.new])
        for scene in comparison.scenes
        if scene.old is not None and scene.new is not None
    }
    headings = _headings_in_common(comparison, old, new)
    links = [pair for pair in shared if pair in scenes or (pair[0] in old.above and pair[1] in new.above)]
    ranked = sorted(links, key=lambda link: (-shared[link] - HEADING_COUNTS * (link in headings), link))
    pairs = {0: 0}
    taken = {0}
    for before, after in ranked:
        if before not in pairs and after not in taken:
            pairs[before] = after
            taken.add(after)
    return UnitLinks(shared, [*pairs.items(), *_by_their_scenes(pairs, shared, old, new)])


def _headings_in_common(comparison: Comparison, old: Units, new: Units) -> set[tuple[int, int]]:
    before, after = comparison.old.kinds, comparison.new.kinds
    return {
        (old.of[fate.old - 1], new.of[line - 1])
        for fate in comparison.lines
        if before[fate.old - 1] is Kind.SCENE_HEADING
        for line in fate.new
        if after[line - 1] is Kind.SCENE_HEADING
    }


def _by_their_scenes(
    pairs: Mapping[int, int], shared: Mapping[tuple[int, int], int], old: Units, new: Units
) -> Iterator[tuple[int, int]]:
    """What stands above the same scene in both, every line of it new."""
    known_old, known_new = {before for before, _ in shared}, {after for _, after in shared}
    for before, after in pairs.items():
        above = before - 1, after - 1
        if above[0] in old.above - known_old and above[1] in new.above - known_new:
            yield above
