"""On which day of the story each scene is: proposed from times of day, and set by the writer where that is wrong."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from screenplay.breakdown.scene_needs import SceneNeeds

# The order of a day. A night goes on until the next dawn or day.
_COURSE = {"dawn": 0, "day": 1, "dusk": 2, "night": 3}


def story_days(scenes: Sequence[SceneNeeds], set_days: Mapping[int, int] | None = None) -> tuple[int, ...]:
    """The day of each scene, counted from 1.

    A new day is proposed where the time of day goes back: after night comes day. A scene that says no time of its own
    is on the day of the one before. `set_days` has the days that a writer set, by ordinal, and the scenes behind
    them go on from there. Headings cannot tell a memory, or two days that begin and end alike: those a writer sets.
    """
    days: list[int] = []
    day, course = 1, 0
    for scene in scenes:
        now = _COURSE.get(scene.light, course) if scene.light_from is None else course
        if now < course:
            day += 1
        if set_days and scene.ordinal in set_days:
            day = set_days[scene.ordinal]
        course = now
        days.append(day)
    return tuple(days)
