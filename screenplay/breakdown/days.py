"""On which day of the story each scene is: proposed from times of day, and set by the writer where that is wrong."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay.breakdown.light import is_apart

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from screenplay.breakdown.scene_needs import SceneNeeds

# The order of a day. A night goes on until the next dawn or day.
_COURSE = {"dawn": 0, "day": 1, "dusk": 2, "night": 3}


def story_days(scenes: Sequence[SceneNeeds], set_days: Mapping[int, int] | None = None) -> tuple[int | None, ...]:
    """The day of each scene, counted from 1; None of one that is marked as a FLASHBACK, a DREAM or a MEMORY, and of
    what goes on from it, as CONTINUOUS and LATER do.

    A new day is proposed where the time of day goes back: after night comes day. A scene that says no time of its own
    is on the day of the one before. `set_days` has the days that a writer set, by ordinal, and the scenes behind
    them go on from there; those behind a memory go on from the day before it, set or not. Headings cannot tell two days
    that begin and end alike, nor a memory that they do not mark: those a writer sets.
    """
    days: list[int | None] = []
    day, course, apart = 1, 0, False
    for scene in scenes:
        apart = is_apart(scene.place_typed, scene.time, scene.remark, goes_on_from_apart=apart)
        if apart:
            days.append((set_days or {}).get(scene.ordinal))
            continue
        now = _COURSE.get(scene.light, course) if scene.light_from is None else course
        if now < course:
            day += 1
        if set_days and scene.ordinal in set_days:
            day = set_days[scene.ordinal]
        course = now
        days.append(day)
    return tuple(days)
