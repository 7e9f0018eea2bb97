"""On which day of the story each scene is: proposed from times of day, and set by the writer where that is wrong."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from screenplay.fountain import DASHES

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from screenplay.breakdown.scene_needs import SceneNeeds

# The order of a day. A night goes on until the next dawn or day.
_COURSE = {"dawn": 0, "day": 1, "dusk": 2, "night": 3}
# How headings mark what is on no day of the story (common practice; other languages' from memory).
_APART = (
    r"FLASH(?:[ -]?(?:BACKS?|FORWARDS?))|(?:DAY)?DREAMS?|NIGHTMARES?|MEMOR(?:Y|IES)|FANTASY"
    r"|RÜCKBLENDE|TRAUM|RÊVE|SOUVENIR|SUEÑO|RECUERDO|SOGNO|RICORDO"
)
_REMARK_APART = re.compile(rf"\b(?:{_APART})\b", re.IGNORECASE)
_NO_MORE = re.compile(r"\b(?:END(?:S|ED)?|AFTER|BEFORE|OUT OF|NOT?|PRESENT|INTERCUT\w*)\b", re.IGNORECASE)
_PART = re.compile(rf"[()\[\]:]|\s[{DASHES}]+\s")
_PART_APART = re.compile(rf"\s*(?:{_APART})(?: SEQUENCE)?\s*", re.IGNORECASE)
_STRAIGHT_ON = re.compile(r"\bCONTINU", re.IGNORECASE)


def story_days(scenes: Sequence[SceneNeeds], set_days: Mapping[int, int] | None = None) -> tuple[int | None, ...]:
    """The day of each scene, counted from 1; None of one that is marked as a FLASHBACK, a DREAM or a MEMORY, and of
    what is CONTINUOUS with it.

    A new day is proposed where the time of day goes back: after night comes day. A scene that says no time of its own
    is on the day of the one before. `set_days` has the days that a writer set, by ordinal, and the scenes behind
    them go on from there; those behind a memory go on from the day before it, set or not. Headings cannot tell two days
    that begin and end alike, nor a memory that they do not mark: those a writer sets.
    """
    days: list[int | None] = []
    day, course, is_apart = 1, 0, False
    for scene in scenes:
        is_apart = _is_marked_apart(scene) or (is_apart and _STRAIGHT_ON.search(scene.time) is not None)
        if is_apart:
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


def _is_marked_apart(scene: SceneNeeds) -> bool:
    """Whether a heading marks its scene as a memory or the like, and not as the end of one."""
    if _REMARK_APART.search(scene.remark) and not _NO_MORE.search(scene.remark):
        return True
    return any(_PART_APART.fullmatch(part) for part in _PART.split(scene.place_typed))
