"""What was said of scenes, as it stands in a draft: days that were set, and an order made by hand, wherever the
scenes are by now."""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.drafts.scripts import compare_drafts, read_script
from screenplay import carry_scene
from screenplay.breakdown import SoughtWord, find_marked_words
from screenplay.script import scene_span

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.drafts.models import Draft
    from screenplay.breakdown import FoundMarkedWord


def set_days(draft: Draft) -> dict[int, int]:
    """The days that a writer set in this draft or in an earlier one, by the scene's ordinal here."""
    told = draft.production.story_days.filter(draft__number__lte=draft.number, draft__withdrawn_at=None)
    days: dict[int, int | None] = {}
    for one in told.select_related("draft"):
        scene = _here(one.draft, draft, one.scene)
        if scene is not None:
            days[scene] = one.day
    return {scene: day for scene, day in days.items() if day is not None}


def hand_order(draft: Draft, count: int) -> tuple[int, ...] | None:
    """The order that somebody made last, in this draft or an earlier one, of the draft's scenes, of which there are
    `count`; None where none stands. A scene that was in no order yet stands behind the one before it in the script."""
    told = draft.production.hand_orders.filter(draft__number__lte=draft.number, draft__withdrawn_at=None)
    latest = told.select_related("draft").order_by("-pk").first()
    if latest is None or not latest.scenes:
        return None
    carried = [_here(latest.draft, draft, scene) for scene in latest.scenes]
    order = list(dict.fromkeys(scene for scene in carried if scene is not None and scene <= count))
    for scene in range(1, count + 1):
        if scene not in order:
            order.insert(order.index(scene - 1) + 1 if scene > 1 else 0, scene)
    return tuple(order)


def marked_words_found(draft: Draft) -> tuple[FoundMarkedWord, ...]:
    """Where the words that departments marked stand in a draft."""
    return find_marked_words(read_script(draft), marked_words_of(draft))


def marked_words_of(draft: Draft) -> Sequence[SoughtWord]:
    """The words that departments of its production marked."""
    standing = draft.production.marked_words.filter(withdrawn_at=None)
    return [SoughtWord(words, department) for words, department in standing.values_list("words", "department")]


def _here(said_on: Draft, draft: Draft, scene: int) -> int | None:
    """Where a scene of one draft is in another, None where it was cut."""
    if said_on.pk == draft.pk or said_on.sha256 == draft.sha256:
        return scene
    comparison = compare_drafts(said_on, draft)
    if not 1 <= scene <= max(comparison.old.scene_of, default=0):
        return None
    now = carry_scene(scene_span(comparison.old, scene), comparison).span
    return comparison.new.scene_of[now.first_line - 1] if now else None
