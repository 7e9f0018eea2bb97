"""Two readings compared: whether the scenes that lost readers in the earlier hold them in the later."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.drafts.scripts import laid_out
from review.readings.followed_scenes import parts_followed
from review.readings.models import ClarityMark
from review.readings.progress import scene_name
from screenplay.reception import Clarity, SceneMark, SceneMarks, hold_summary, over_parts, scene_hold

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from review.people.models import Member
    from review.readers.models import Reading
    from screenplay.reception import SceneHold
    from screenplay.script import Scene


@dataclass(frozen=True, slots=True)
class ScenePart:
    """A scene of the later draft that is all of an earlier one, or a part of it: how many of how many it holds."""

    scene: Scene
    held: int
    marked: int

    @property
    def name(self) -> str:
        return scene_name(self.scene)


@dataclass(frozen=True, slots=True)
class ComparedScene:
    """A scene in the earlier draft, None for a new one, with what it is in the later: several parts where it was split,
    none where it was cut. `hold` says how it held its readers in both, all its parts together; `lost` that it lost
    readers in the earlier reading."""

    then: Scene | None
    parts: tuple[ScenePart, ...]
    hold: SceneHold
    lost: bool = False

    @property
    def name_then(self) -> str:
        return scene_name(self.then) if self.then else ""


@dataclass(frozen=True, slots=True)
class Compared:
    """The scenes that were marked in the earlier reading: first those that lost readers, then those that do now; then
    the new ones that were marked in the later. `losing` are the scenes of the later draft that lose readers and are of
    none that lost any before, new ones too."""

    scenes: tuple[ComparedScene, ...]
    losing: tuple[Scene, ...]
    sentence: str


def compared(member: Member, earlier: Reading, later: Reading) -> Compared:
    """How the scenes of an earlier reading hold in a later one; two queries."""
    then, now = _marks(member, earlier), _marks(member, later)
    scenes_now = laid_out(later.draft).scenes
    followed = parts_followed(earlier.draft, later.draft)
    found = []
    for scene in laid_out(earlier.draft).scenes:
        marks = then.get(scene.ordinal, ())
        if marks:
            parts = followed[scene.ordinal]
            after = over_parts(now.get(part, ()) for part in parts)
            hold = scene_hold(marks, after, is_cut=not parts)
            told = tuple(_part(scenes_now[part - 1], now) for part in parts)
            found.append(ComparedScene(scene, told, hold, SceneMarks("", tuple(marks)).loses))
    lost = [each for each in found if each.lost]
    known = {part.scene.ordinal for each in lost for part in each.parts}
    losing = tuple(
        scene
        for scene in scenes_now
        if scene.ordinal not in known and SceneMarks("", tuple(now.get(scene.ordinal, ()))).loses
    )
    held = [each for each in found if not each.lost]
    held.sort(key=lambda each: not any(part.scene in losing for part in each.parts))
    came_from_one = {part for parts in followed.values() for part in parts}
    new = [
        ComparedScene(None, (_part(scene, now),), scene_hold((), now[scene.ordinal], is_new=True))
        for scene in scenes_now
        if scene.ordinal in now and scene.ordinal not in came_from_one
    ]
    return Compared((*lost, *held, *new), losing, hold_summary([each.hold for each in lost], len(losing)))


def _part(scene: Scene, now: Mapping[int, Sequence[SceneMark]]) -> ScenePart:
    marks = now.get(scene.ordinal, ())
    return ScenePart(scene, sum(each.mark == Clarity.CLEAR for each in marks), len(marks))


def _marks(member: Member, reading: Reading) -> dict[int, list[SceneMark]]:
    marks: dict[int, list[SceneMark]] = defaultdict(list)
    standing = ClarityMark.objects.visible_to(member).standing().filter(reader__reading=reading)
    for mark in standing.select_related("reader__member__person"):
        marks[mark.scene].append(SceneMark(mark.reader.name, Clarity(mark.mark), mark.why))
    return marks
