"""Two readings compared: whether the scenes that lost readers in the earlier hold them in the later."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.drafts.scripts import laid_out
from review.readings.followed_scenes import later_scenes
from review.readings.models import ClarityMark
from review.readings.progress import scene_name
from screenplay.reception import Clarity, SceneMark, SceneMarks, hold_summary, scene_hold, worst_of_each

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from review.people.models import Member
    from review.readers.models import Reading
    from screenplay.reception import SceneHold
    from screenplay.script import Scene


@dataclass(frozen=True, slots=True)
class LaterScene:
    """A scene of the later draft in which an earlier one is, whole or split: how many of how many it holds."""

    scene: Scene
    held: int
    marked: int

    @property
    def name(self) -> str:
        return scene_name(self.scene)


@dataclass(frozen=True, slots=True)
class ComparedScene:
    """A scene in the earlier draft, None for a new one, with those that it is in the later: several where it was split,
    none where it was cut. `hold` says how it held its readers in both, all that it became together; `lost` that it lost
    readers in the earlier reading."""

    then: Scene | None
    now: tuple[LaterScene, ...]
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
    followed = later_scenes(earlier.draft, later.draft)
    found = []
    for scene in laid_out(earlier.draft).scenes:
        marks = then.get(scene.ordinal, ())
        if marks:
            became = followed[scene.ordinal]
            after = worst_of_each(now.get(ordinal, ()) for ordinal in became)
            hold = scene_hold(marks, after, is_cut=not became)
            told = tuple(_later(scenes_now[ordinal - 1], now) for ordinal in became)
            found.append(ComparedScene(scene, told, hold, SceneMarks("", tuple(marks)).loses))
    lost = [each for each in found if each.lost]
    known = {later.scene.ordinal for each in lost for later in each.now}
    losing = tuple(
        scene
        for scene in scenes_now
        if scene.ordinal not in known and SceneMarks("", tuple(now.get(scene.ordinal, ()))).loses
    )
    held = [each for each in found if not each.lost]
    held.sort(key=lambda each: not any(later.scene in losing for later in each.now))
    came_from_one = {ordinal for became in followed.values() for ordinal in became}
    new = [
        ComparedScene(None, (_later(scene, now),), scene_hold((), now[scene.ordinal], is_new=True))
        for scene in scenes_now
        if scene.ordinal in now and scene.ordinal not in came_from_one
    ]
    return Compared((*lost, *held, *new), losing, hold_summary([each.hold for each in lost], len(losing)))


def _later(scene: Scene, now: Mapping[int, Sequence[SceneMark]]) -> LaterScene:
    marks = now.get(scene.ordinal, ())
    return LaterScene(scene, sum(each.mark == Clarity.CLEAR for each in marks), len(marks))


def _marks(member: Member, reading: Reading) -> dict[int, list[SceneMark]]:
    marks: dict[int, list[SceneMark]] = defaultdict(list)
    standing = ClarityMark.objects.visible_to(member).standing().filter(reader__reading=reading)
    for mark in standing.select_related("reader__member__person"):
        marks[mark.scene].append(SceneMark(mark.reader.name, Clarity(mark.mark), mark.why))
    return marks
