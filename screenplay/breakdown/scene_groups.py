"""The scenes of a breakdown together by what they share: a place, a member of the cast, day or night."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from screenplay.fountain import same_name

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from screenplay.breakdown.scene_needs import SceneNeeds

LIGHTS = ("day", "night", "dawn", "dusk", "")


@dataclass(frozen=True, slots=True)
class SceneGroup:
    """Scenes that share something, by ordinal, and how long they are together, in eighths of a page. A place is named
    as it is met first; a light is "" where no heading says. Of one of the cast, `named` are those of the scenes whose
    action names them without a word of theirs, and `heard` are further ones, in which they are a voice alone."""

    name: str
    scenes: tuple[int, ...]
    eighths: int
    named: tuple[int, ...] = ()
    heard: tuple[int, ...] = ()


def by_place(scenes: Sequence[SceneNeeds]) -> tuple[SceneGroup, ...]:
    """The places with their scenes, the longest together first; a scene of several settings is at each place."""
    return _longest_first((place.key, place.name, scene) for scene in scenes for place in scene.places)


def by_cast(scenes: Sequence[SceneNeeds]) -> tuple[SceneGroup, ...]:
    """The cast with the scenes that they are in, speaking or named in action, the longest together first; who is but
    heard comes last."""
    there = _longest_first((same_name(name), name, scene) for scene in scenes for name in scene.there)
    named: dict[str, list[int]] = defaultdict(list)
    heard: dict[str, list[int]] = defaultdict(list)
    spelled: dict[str, str] = {}
    for scene in scenes:
        for names, found in ((scene.mentioned, named), (scene.heard, heard)):
            for name in names:
                found[same_name(name)].append(scene.ordinal)
        spelled.update({same_name(name): name for name in scene.heard})
    found_there = {same_name(group.name) for group in there}
    never_there = (SceneGroup(name, (), 0) for key, name in sorted(spelled.items()) if key not in found_there)
    return tuple(
        replace(group, named=tuple(named[same_name(group.name)]), heard=tuple(heard[same_name(group.name)]))
        for group in (*there, *never_there)
    )


def by_light(scenes: Sequence[SceneNeeds]) -> tuple[SceneGroup, ...]:
    """Day, night, dawn, dusk and what nobody says, as far as there are scenes of each; a scene that is at one place by
    day and at another by night is in both."""
    told = ((light, light, scene) for scene in scenes for light in scene.lights)
    found = {group.name: group for group in _longest_first(told)}
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
