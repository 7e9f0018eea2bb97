"""Where the lines of a working draft come from: kept scene by scene as they are saved, and told of the whole text."""

from __future__ import annotations

from collections import Counter, defaultdict
from itertools import islice
from typing import TYPE_CHECKING

from review.drafts.known_origins import known_origins
from review.drafts.scripts import compare_drafts, read_script
from review.rewriting.models import SceneText, WorkingScene
from screenplay import Kind
from screenplay.comparing import LineOrigins
from screenplay.fountain import split_lines
from screenplay.next_draft import texts_by_scene

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

    from review.drafts.models import Draft
    from review.rewriting.models import WorkingDraft
    from screenplay import Screenplay


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


def number_scenes(working: WorkingDraft) -> None:
    """Let the scenes of a working draft that goes on from another draft have that one's ordinals: each the scene that
    has its text; else that of which it is known to have the heading, or the most lines."""
    script = read_script(working.base)
    by_text: dict[str, list[int]] = defaultdict(list)
    for at, text in reversed(list(enumerate(texts_by_scene(script)))):
        if at:
            by_text[_as_lines(text)].append(at)
    scenes = sorted(working.scenes.all(), key=lambda scene: (scene.cut_at is not None, scene.position, scene.pk))
    free = {at for same in by_text.values() for at in same}
    found = {scene.pk: 0 for scene in scenes if scene.ordinal == 0}
    for scene in scenes:
        if scene.pk not in found and (same := by_text.get(_as_lines(scene.text))):
            found[scene.pk] = same.pop()
            free.discard(found[scene.pk])
    for scene in scenes:
        if scene.pk not in found and (ordinal := _scene_of(scene, script, free)) is not None:
            found[scene.pk] = ordinal
            free.discard(ordinal)
    for scene in scenes:
        scene.ordinal = found.get(scene.pk)
    WorkingScene.objects.bulk_update(scenes, ["ordinal"])


def _as_lines(text: str) -> str:
    """A text whatever line ends it came with."""
    return "\n".join(text.splitlines())


def _scene_of(scene: WorkingScene, script: Screenplay, free: Collection[int]) -> int | None:
    lines = [line for lines in scene.line_origins.lines for line in lines if line > 0]
    of = Counter(script.scene_of[line - 1] for line in lines)
    of.update(dict.fromkeys((script.scene_of[line - 1] for line in lines if _heads(script, line)), len(lines)))
    return next((ordinal for ordinal, _ in of.most_common() if ordinal in free), None)


def _heads(script: Screenplay, line: int) -> bool:
    return script.kinds[line - 1] is Kind.SCENE_HEADING


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
