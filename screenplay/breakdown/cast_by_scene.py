"""Who is in each scene: who speaks there, who of them is a voice alone, and whom the action names."""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.model import Speech
from screenplay.script import named_by_scene, speakers_by_scene

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from screenplay.model import Screenplay

_VOICE_OVER = re.compile(r"\bV[./]? ?O\b|\bVOICE[- ]?OVER\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class CastByScene:
    """By the scenes' ordinals: who speaks in each, of whom there every speech is a voice over, and whom the action
    names. `names` are those of all characters."""

    names: tuple[str, ...]
    speaking: Mapping[int, tuple[str, ...]]
    over_alone: Mapping[int, frozenset[str]]
    named: Mapping[int, tuple[str, ...]]

    def speaking_there(self, scene: int) -> list[str]:
        """Those who speak in a scene with more than a voice over."""
        return [name for name in self.speaking.get(scene, ()) if name not in self.over_alone.get(scene, ())]


def cast_by_scene(script: Screenplay, names: Sequence[str]) -> CastByScene:
    """Who of the characters, who are called so, is in each scene."""
    return CastByScene(tuple(names), speakers_by_scene(script), _over_alone(script), named_by_scene(script, names))


def _over_alone(script: Screenplay) -> Mapping[int, frozenset[str]]:
    """Those of whom every speech in a scene is a voice over, by the scene's ordinal."""
    over: dict[int, set[str]] = defaultdict(set)
    there: dict[int, set[str]] = defaultdict(set)
    for element in script.elements:
        if isinstance(element, Speech) and element.lines:
            found = over if any(map(_VOICE_OVER.search, element.extensions)) else there
            found[script.scene_of[element.first_line - 1]].add(element.name)
    return defaultdict(frozenset, {scene: frozenset(names - there[scene]) for scene, names in over.items()})
