"""The scenes of a breakdown together by what they share: a place, a member of the cast, day or night."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.fountain import same_name

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from screenplay.breakdown.scene_needs import SceneNeeds

LIGHTS = ("day", "night", "dawn", "dusk", "")


@dataclass(frozen=True, slots=True)
class SceneGroup:
    """Scenes that share something, by ordinal, and how long they are together, in eighths of a page. A place is named
    as it is typed first; a light is "" where no heading says."""

    name: str
    scenes: tuple[int, ...]
    eighths: int


def by_place(scenes: Sequence[SceneNeeds]) -> tuple[SceneGroup, ...]:
    """The places with their scenes, the longest together first."""
    return _longest_first((scene.place_key, scene.place, scene) for scene in scenes)


def by_cast(scenes: Sequence[SceneNeeds]) -> tuple[SceneGroup, ...]:
    """The cast with the scenes that they are in, speaking or named in action, the longest together first."""
    return _longest_first((same_name(name), name, scene) for scene in scenes for name in scene.cast)


def by_light(scenes: Sequence[SceneNeeds]) -> tuple[SceneGroup, ...]:
    """Day, night, dawn, dusk and what nobody says, as far as there are scenes of each."""
    found = {group.name: group for group in _longest_first((scene.light, scene.light, scene) for scene in scenes)}
    return tuple(found[light] for light in LIGHTS if light in found)


def _longest_first(told: Iterable[tuple[str, str, SceneNeeds]]) -> tuple[SceneGroup, ...]:
    names: dict[str, str] = {}
    members: dict[str, list[SceneNeeds]] = defaultdict(list)
    for key, name, scene in told:
        names.setdefault(key, name)
        members[key].append(scene)
    found = [
        SceneGroup(names[key], tuple(one.ordinal for one in these), sum(one.eighths for one in these))
        for key, these in members.items()
    ]
    return tuple(sorted(found, key=lambda group: (-group.eighths, group.name)))
