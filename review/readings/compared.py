"""Two readings compared: whether the scenes that lost readers in the earlier hold them in the later."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.drafts.scripts import laid_out
from review.readings.followed_scenes import scenes_followed
from review.readings.models import ClarityMark
from review.readings.progress import scene_name
from screenplay.reception import Clarity, SceneMark, SceneMarks, hold_summary, scene_hold

if TYPE_CHECKING:
    from review.people.models import Member
    from review.readers.models import Reading
    from screenplay.reception import SceneHold
    from screenplay.script import Scene


@dataclass(frozen=True, slots=True)
class ComparedScene:
    """A scene in the earlier draft, the one it is in the later, None where it was cut, and how it held its readers in
    both. `lost` says that it lost readers in the earlier reading."""

    then: Scene
    now: Scene | None
    hold: SceneHold
    lost: bool

    @property
    def name_then(self) -> str:
        return scene_name(self.then)

    @property
    def name_now(self) -> str:
        return scene_name(self.now) if self.now else ""


@dataclass(frozen=True, slots=True)
class Compared:
    """The scenes that were marked in the earlier reading: first those that lost readers, then those that do now.
    `losing` are the scenes of the later draft that lose readers and lost none before, new ones too."""

    scenes: tuple[ComparedScene, ...]
    losing: tuple[Scene, ...]
    sentence: str


def compared(member: Member, earlier: Reading, later: Reading) -> Compared:
    """How the scenes of an earlier reading hold in a later one; two queries."""
    then, now = _marks(member, earlier), _marks(member, later)
    scenes_then, scenes_now = laid_out(earlier.draft).scenes, laid_out(later.draft).scenes
    followed = scenes_followed(earlier.draft, later.draft)
    found = []
    for scene in scenes_then:
        marks = then.get(scene.ordinal, ())
        if marks:
            ordinal = followed.get(scene.ordinal)
            after = scenes_now[ordinal - 1] if ordinal else None
            hold = scene_hold(marks, now.get(ordinal or 0, ()), is_cut=after is None)
            found.append(ComparedScene(scene, after, hold, SceneMarks("", tuple(marks)).loses))
    lost = [each for each in found if each.lost]
    known = {each.now.ordinal for each in lost if each.now}
    losing = tuple(
        scene
        for scene in scenes_now
        if scene.ordinal not in known and SceneMarks("", tuple(now.get(scene.ordinal, ()))).loses
    )
    held = sorted((each for each in found if not each.lost), key=lambda each: each.now not in losing)
    return Compared((*lost, *held), losing, hold_summary([each.hold for each in lost], len(losing)))


def _marks(member: Member, reading: Reading) -> dict[int, list[SceneMark]]:
    marks: dict[int, list[SceneMark]] = defaultdict(list)
    standing = ClarityMark.objects.visible_to(member).standing().filter(reader__reading=reading)
    for mark in standing.select_related("reader__member__person"):
        marks[mark.scene].append(SceneMark(mark.reader.name, Clarity(mark.mark), mark.why))
    return marks
