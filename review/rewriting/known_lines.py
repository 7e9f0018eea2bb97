"""Where the lines of a working draft come from: kept scene by scene as they are saved, and told of the whole text."""

from __future__ import annotations

from itertools import islice
from typing import TYPE_CHECKING

from review.drafts.known_origins import known_origins
from review.drafts.scripts import compare_drafts, read_script
from review.rewriting.models import SceneText, WorkingScene
from screenplay.comparing import LineOrigins
from screenplay.fountain import split_lines

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from review.drafts.models import Draft
    from review.rewriting.models import WorkingDraft


def origins_at_first(base: Draft, begun_from: Draft) -> LineOrigins:
    """From which lines of the base those of a text come that a working draft begins with: the base's own, or that of
    an older draft, in which the base's are found by comparing."""
    count = len(read_script(begun_from).source)
    if begun_from.pk == base.pk:
        return LineOrigins.unchanged(count)
    return LineOrigins.by_targets(_targets(base, begun_from), count)


def parted_origins(origins: LineOrigins, texts: Sequence[str]) -> list[LineOrigins]:
    """The origins of a text's lines for each of the texts that it is parted into."""
    lines = iter(origins.lines)
    return [LineOrigins(tuple(islice(lines, len(split_lines(text))))) for text in texts]


def go_on_from(working: WorkingDraft, draft: Draft) -> None:
    """Let a working draft go on from another draft than it was begun from: its lines come from that one's now, as far
    as these are found by comparing. What it read earlier is known to come from nowhere any more."""
    scenes = list(working.scenes.all())
    told = _told_of(draft, working.base, scenes)
    for scene in scenes:
        scene.origins = told[scene.pk].packed()
    WorkingScene.objects.bulk_update(scenes, ["origins"])
    SceneText.objects.filter(scene__working=working).update(origins=[])
    working.base = draft
    working.save(update_fields=["base"])


def origins_in(draft: Draft, working: WorkingDraft, standing: Sequence[WorkingScene]) -> LineOrigins:
    """From which lines of a draft those of the working text come; a line is in one scene at most.

    Of another draft than the base it is told by comparing the two.
    """
    known = {scene.pk: scene.line_origins for scene in standing}
    if working.base_id != draft.pk:
        known = _told_of(draft, working.base, standing)
    holder: dict[int, int] = {}
    told = (
        tuple(line for line in lines if line > 0 and holder.setdefault(line, scene.pk) == scene.pk)
        for scene in standing
        for lines in known[scene.pk].lines
    )
    return LineOrigins(tuple(told))


def _told_of(draft: Draft, base: Draft, scenes: Sequence[WorkingScene]) -> dict[int, LineOrigins]:
    targets = _targets(base, draft)
    return {scene.pk: scene.line_origins.told_of(targets) for scene in scenes}


def _targets(old: Draft, new: Draft) -> Mapping[int, Sequence[int]]:
    """The lines of one draft that each line of another is on: those that it is known to come from, where it was written
    from that draft; else what is found by comparing."""
    if old.written_from_id == new.pk and (known := known_origins(old, new)) is not None:
        return dict(enumerate(known.lines, 1))
    return {fate.old: fate.new for fate in compare_drafts(old, new).lines}
