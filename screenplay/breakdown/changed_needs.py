"""What of a breakdown changed from one draft to another."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from screenplay.breakdown.scene_needs import SceneNeeds

COMPARED = (
    "number",
    "setting",
    "place",
    "place_within",
    "also_at",
    "time",
    "light",
    "eighths",
    "seconds",
    "speaking",
    "heard",
    "mentioned",
    "dialogue_words",
    "action_words",
    "cautions",
    "department_words",
)


@dataclass(frozen=True, slots=True)
class NeedsChange:
    """A scene in two drafts, None in the one that does not have it. `changed` are the names of what differs, none where
    one draft alone has it."""

    old: SceneNeeds | None
    new: SceneNeeds | None
    changed: tuple[str, ...]


def needs_changes(
    old: Sequence[SceneNeeds], new: Sequence[SceneNeeds], pairs: Iterable[tuple[int | None, int | None]]
) -> tuple[NeedsChange, ...]:
    """What differs in each pair of scenes, by their ordinals, in the order given. Of cautions and
    of departments' words the lines are not compared, for lines move."""
    return tuple(_change(_at(old, one), _at(new, other)) for one, other in pairs)


def _at(scenes: Sequence[SceneNeeds], ordinal: int | None) -> SceneNeeds | None:
    return None if ordinal is None else scenes[ordinal - 1]


def _change(old: SceneNeeds | None, new: SceneNeeds | None) -> NeedsChange:
    if old is None or new is None:
        return NeedsChange(old, new, ())
    return NeedsChange(old, new, tuple(name for name in COMPARED if _told(old, name) != _told(new, name)))


def _told(scene: SceneNeeds, name: str) -> object:
    told = getattr(scene, name)
    if name in {"cautions", "department_words"}:
        return sorted((find.key, find.words) for find in told)
    return told
