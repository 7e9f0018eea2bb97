"""Which scene of a later draft one of an earlier is, or which it was split into; and the purposes of scenes."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from review.drafts.models import Draft
from review.drafts.scripts import compare_drafts, read_script
from review.readings.question_models import ScenePurpose
from screenplay import carry_scene
from screenplay.script import headings_of, scene_span

if TYPE_CHECKING:
    from collections.abc import Mapping


def scenes_followed(old: Draft, new: Draft) -> dict[int, int]:
    """The scene that each scene of an earlier draft is in a later one, by ordinals; what is gone is left out."""
    if old.pk == new.pk:
        return {ordinal: ordinal for ordinal in range(1, len(headings_of(read_script(old))) + 1)}
    comparison = compare_drafts(old, new)
    found: dict[int, int] = {}
    for ordinal in range(1, len(headings_of(comparison.old)) + 1):
        span = carry_scene(scene_span(comparison.old, ordinal), comparison).span
        if span is not None:
            found[ordinal] = comparison.new.scene_of[span.first_line - 1]
    return found


def later_scenes(old: Draft, new: Draft) -> dict[int, tuple[int, ...]]:
    """The scenes of a later draft that each scene of an earlier one is in, by ordinals, rising: several where it was
    split, none where it was cut."""
    if old.pk == new.pk:
        return {ordinal: (ordinal,) for ordinal in range(1, len(headings_of(read_script(old))) + 1)}
    fates = compare_drafts(old, new).by_old_scene
    return {scene: tuple(sorted(fate.new for fate in found if fate.new)) for scene, found in fates.items()}


def purposes_in(draft: Draft) -> dict[int, str]:
    """The purpose of each scene of a draft that has one, by its ordinal: written on this draft, or on an earlier one,
    from which it followed the scene. Of two scenes that became one, the first one's purpose is told."""
    drafts = list(
        Draft.objects.standing()
        .filter(production_id=draft.production_id, number__lte=draft.number)
        .select_related("production")
        .order_by("number")
    )
    written: dict[int, dict[int, str]] = {}
    for purpose in ScenePurpose.objects.filter(draft__in=drafts, replaced_at=None):
        written.setdefault(purpose.draft_id, {})[purpose.scene] = purpose.text
    standing: dict[int, str] = dict(written.get(drafts[0].pk, {})) if drafts else {}
    for before, after in pairwise(drafts):
        standing = _purposes_after(standing, before, after) | written.get(after.pk, {})
    return {scene: text for scene, text in standing.items() if text}


def _purposes_after(purposes: Mapping[int, str], before: Draft, after: Draft) -> dict[int, str]:
    if not purposes:
        return {}
    followed = scenes_followed(before, after)
    found: dict[int, str] = {}
    for scene, text in sorted(purposes.items()):
        if scene in followed:
            found.setdefault(followed[scene], text)
    return found
