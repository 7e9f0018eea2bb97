"""What of the changes in two sources is on no page, beside what the pages show: one number for writers and readers."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from review.changes.scene_changes import MOVED_AWAY, QUIET, Changes, RowMark, SceneChange
from screenplay.comparing import SceneFateKind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from review.changes.scene_changes import ChangeRow, Unchanged

_OF_WORDS = frozenset({SceneFateKind.KEPT.value, SceneFateKind.REWORDED.value})


def beside_the_pages(source: Changes, on_paper: Changes) -> Changes:
    """What changed in the source, with the fates and the numbers of what changed on the pages, and how many changes are
    on none."""
    told_scenes = {scene.anchor: scene for scene in on_paper.told_scenes}
    told = {(row.old, row.new) for row in _told_rows(on_paper)}
    told_lines = {line for old, _ in told for line in old}, {line for _, new in told for line in new}
    unprinted = [
        row
        for row in _told_rows(source)
        if row.mark != RowMark.MOVED_AWAY and told_lines[0].isdisjoint(row.old) and told_lines[1].isdisjoint(row.new)
    ]
    return replace(
        source,
        blocks=tuple(_as_on_paper(block, told_scenes) for block in source.blocks),
        scenes=on_paper.scenes,
        lines=on_paper.lines,
        moved_with_scenes=on_paper.moved_with_scenes,
        unprinted=len(unprinted),
    )


def _as_on_paper(block: SceneChange | Unchanged, told: Mapping[str, SceneChange]) -> SceneChange | Unchanged:
    if not isinstance(block, SceneChange) or block.fate == MOVED_AWAY:
        return block
    on_paper = told.get(block.anchor)
    if block.fate in _OF_WORDS:
        fate = SceneFateKind.REWORDED if on_paper else SceneFateKind.KEPT
        return replace(block, fate=fate.value)
    return replace(block, also=on_paper.also if on_paper else ())


def _told_rows(changes: Changes) -> Iterator[ChangeRow]:
    for block in changes.blocks:
        if isinstance(block, SceneChange) and block.fate != MOVED_AWAY:
            rows = [*block.rows, *([block.heading] if block.heading else [])]
            yield from (row for row in rows if row.mark not in QUIET)
