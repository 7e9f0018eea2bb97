"""Where a voice rule holds in the next draft: its character under their present name, its scenes where they are now."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from screenplay.fountain import same_name
from screenplay.next_draft.carrying import carry_scene
from screenplay.script import scene_span

if TYPE_CHECKING:
    from collections.abc import Iterable

    from screenplay.comparing import Comparison
    from screenplay.speech import VoiceRule


def carry_rule(rule: VoiceRule, comparison: Comparison) -> VoiceRule | None:
    """The rule as it holds in the new draft; None where all its scenes were cut.

    It begins with the scene that its first one is now, or if that was cut, with the next that lives on; it ends with
    the scene that its last one is, or the one before that lives on. Where they have changed places, it holds between
    them.
    """
    names = {same_name(one.old): one.new for one in comparison.renames if one.kind == "character"}
    character = names.get(same_name(rule.character), rule.character)
    count = max(comparison.old.scene_of, default=0)
    first, last = rule.first_scene, rule.last_scene
    start = first and _living(range(first, (last or count) + 1), comparison)
    end = last and _living(range(last, (first or 1) - 1, -1), comparison)
    if (first and start is None) or (last and end is None):
        return None
    if start and end and start > end:
        start, end = end, start
    return replace(rule, character=character, first_scene=start, last_scene=end)


def _living(scenes: Iterable[int], comparison: Comparison) -> int | None:
    """Where the first of some old scenes that lives on is in the new draft."""
    for scene in scenes:
        now = carry_scene(scene_span(comparison.old, scene), comparison).span
        if now is not None:
            return comparison.new.scene_of[now.first_line - 1]
    return None
