"""Voices and a breakdown, and what changed in them, as the JSON of the commands has them."""

from __future__ import annotations

from dataclasses import fields
from typing import TYPE_CHECKING, Any

from review.changes.concerned import concerned_departments
from review.drafts.list_language import NOT_READ
from screenplay.breakdown import (
    CAUTION_SENSE,
    ORDER_RULE,
    TIME_RULE,
    SceneNeeds,
    break_down,
    by_cast,
    by_light,
    by_place,
    needs_changes,
    propose_order,
    reads_as_english,
    story_days,
    suggestions,
)
from screenplay.speech import Voice, likeness, voice_changes, voices

if TYPE_CHECKING:
    from collections.abc import Iterable

    from review.changes.concerned import ConcernedDepartment
    from screenplay import LaidOut
    from screenplay.breakdown import SceneGroup
    from screenplay.comparing import Comparison
    from screenplay.speech import VoiceLikeness


def voices_told(pages: LaidOut) -> list[dict[str, Any]]:
    """Every voice with all its figures, and how far it is from each other one."""
    found = voices(pages)
    near = likeness(found)
    return [{**_voice(voice), "likeness": _likeness(voice.name, near)} for voice in found]


def _voice(voice: Voice) -> dict[str, Any]:
    told = {field.name: _plain(getattr(voice, field.name)) for field in fields(Voice)}
    told.pop("counts")
    return told


def _likeness(name: str, near: VoiceLikeness | None) -> list[dict[str, Any]] | None:
    if near is None or name not in near.names:
        return None
    row = near.deltas[near.names.index(name)]
    return [{"name": other, "delta": delta} for other, delta in zip(near.names, row, strict=True) if other != name]


def breakdown_told(pages: LaidOut) -> dict[str, Any]:
    """The scenes with what they need, what shares a place, and an order of shooting."""
    scenes = break_down(pages)
    order, cast = propose_order(scenes), by_cast(scenes)
    return {
        "scenes": [{**_needs(scene), "story_day": day} for scene, day in zip(scenes, story_days(scenes), strict=True)],
        "time_rule": TIME_RULE,
        "cautions_sense": CAUTION_SENSE if reads_as_english(pages.script) else f"{CAUTION_SENSE} {NOT_READ}",
        "places": _groups(by_place(scenes)),
        "cast": [
            {**told, "named": list(group.named), "heard": list(group.heard)}
            for group, told in zip(cast, _groups(cast), strict=True)
        ],
        "lights": _groups(by_light(scenes)),
        "shooting_order": {
            "rule": ORDER_RULE,
            "scenes": list(order.scenes),
            "moves": {"places": order.moves.places, "lights": order.moves.lights},
            "moves_in_script_order": {
                "places": order.moves_in_script_order.places,
                "lights": order.moves_in_script_order.lights,
            },
        },
        "suggestions": [_plain(one) for one in suggestions(pages.script)],
    }


def _needs(scene: SceneNeeds) -> dict[str, Any]:
    told = {field.name: _plain(getattr(scene, field.name)) for field in fields(SceneNeeds)}
    return {**told, "concerned": [_concerned(one) for one in concerned_departments(scene)]}


def _concerned(one: ConcernedDepartment) -> dict[str, Any]:
    return {
        "department": str(one.department),
        "cautions": list(dict.fromkeys(find.key for find in one.cautions)),
        "words": [find.words for find in one.words],
    }


def _groups(groups: Iterable[SceneGroup]) -> list[dict[str, Any]]:
    return [{"name": group.name, "scenes": list(group.scenes), "eighths": group.eighths} for group in groups]


def voice_changes_told(old: LaidOut, new: LaidOut, comparison: Comparison) -> list[dict[str, Any]]:
    """Everybody who speaks in either draft, and what differs."""
    renames = {one.old: one.new for one in comparison.renames if one.kind == "character"}
    return [
        {
            "old": change.old and change.old.name,
            "new": change.new and change.new.name,
            "changed": _before_and_now(change.old, change.new, change.changed),
        }
        for change in voice_changes(voices(old), voices(new), renames)
    ]


def breakdown_changes_told(old: LaidOut, new: LaidOut, comparison: Comparison) -> list[dict[str, Any]]:
    """Every scene of either draft, and what differs in what it needs."""
    pairs = [(scene.old, scene.new) for scene in comparison.scenes]
    return [
        {
            "old": change.old and change.old.ordinal,
            "new": change.new and change.new.ordinal,
            "changed": _before_and_now(change.old, change.new, change.changed),
        }
        for change in needs_changes(break_down(old), break_down(new), pairs)
    ]


def _before_and_now(old: object, new: object, changed: Iterable[str]) -> dict[str, list[Any]]:
    return {name: [_plain(getattr(old, name)), _plain(getattr(new, name))] for name in changed}


def _plain(value: object) -> Any:
    """Named tuples as objects, tuples of them as lists."""
    if hasattr(value, "_asdict"):
        return {name: _plain(each) for name, each in value._asdict().items()}
    return [_plain(each) for each in value] if isinstance(value, tuple) else value
