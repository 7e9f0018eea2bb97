"""What changed between two drafts, set out as it is read: scene by scene in the new draft's order, each line once."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from review.changes.change_rows import ChangeRows
from review.changes.folding import fold_unchanged, gather_unchanged
from review.changes.out_of_print import beside_the_pages
from review.changes.paired_drafts import PairedDrafts
from review.changes.scene_changes import (
    LEAD_IN,
    MOVED_AWAY,
    QUIET,
    ChangeRow,
    Changes,
    RowGroup,
    RowMark,
    SceneChange,
)
from review.drafts.scripts import compare_drafts, laid_out
from review.kept import kept
from review.kept_beyond import kept_beyond
from screenplay import Kind
from screenplay.comparing import LineFateKind, SceneFateKind

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from review.drafts.models import Draft, PagesKey
    from screenplay.comparing import Comparison
    from screenplay.script import Scene

# These are told of a scene though each of its lines is as it was.
TOLD_WHOLE = frozenset({SceneFateKind.MOVED.value, SceneFateKind.SPLIT.value, SceneFateKind.MERGED.value})
BYTES_A_LINE = 700  # of what is kept, as measured: for each line of either draft


def changes_between(old: Draft, new: Draft, *, with_source: bool) -> Changes:
    """What changed from one draft to another; worked out once for each pair of texts and their page setting.

    Without the source it is what changed on the pages: a writer's notes inside the script, text taken out, sections
    and synopses are not told.
    """
    return _changes_between(old.pages_key, new.pages_key, with_source)


def weigh_changes(changes: Changes) -> int:
    """About how many bytes they take."""
    return BYTES_A_LINE * (len(changes.anchors) + len(changes.new_anchors))


@kept(weigh_changes)
@kept_beyond
def _changes_between(old: PagesKey, new: PagesKey, with_source: bool) -> Changes:
    scenes = laid_out(old.draft).scenes, laid_out(new.draft).scenes
    on_paper = _changes_between(old, new, False) if with_source else None
    return set_out(compare_drafts(old.draft, new.draft), *scenes, on_paper)


def set_out(
    comparison: Comparison, old_scenes: Sequence[Scene], new_scenes: Sequence[Scene], on_paper: Changes | None = None
) -> Changes:
    """The changes between two drafts in reading order, for the screen that shows them; the scenes are all of theirs.

    What changed on the pages; and where that is given as `on_paper`, with the source about it, told beside the same
    numbers."""
    found = _SettingOut(PairedDrafts(comparison, old_scenes, new_scenes, on_paper is not None)).changes()
    return found if on_paper is None else beside_the_pages(found, on_paper)


@dataclass(frozen=True)
class _SettingOut:
    """Scene by scene, what changed between two drafts that are paired."""

    paired: PairedDrafts

    @cached_property
    def rows(self) -> ChangeRows:
        return ChangeRows(self.paired)

    def changes(self) -> Changes:
        rows = self.rows.by_new_scene()
        blocks: list[SceneChange] = []
        departed = self.departed_scenes()
        for ordinal in range(len(self.paired.new_scenes) + 1):
            if ordinal != LEAD_IN or rows[LEAD_IN]:
                blocks.append(self.scene_block(ordinal, rows[ordinal]))
            blocks.extend(departed.get(ordinal, ()))
        shown = [row for block in blocks for row in block.rows]
        shown += [block.heading for block in blocks if block.heading]
        moved = {fate.old for fate in self.paired.fate_of.values() if fate.fate == LineFateKind.MOVED and fate.new}
        told_as_moved = {line for row in shown if row.mark == RowMark.MOVED_HERE for line in row.old}
        return Changes(
            blocks=tuple(gather_unchanged(blocks)),
            renames=tuple(self.paired.comparison.renames),
            scenes=_count_scenes(blocks),
            lines=Counter(row.mark.value for row in shown),
            moved_with_scenes=len(moved - told_as_moved),
            unprinted=0,
            changed_lines=frozenset(moved.union(*(row.old for row in shown if row.mark not in QUIET))),
            anchors=_anchors_of_old(shown),
            new_anchors={line: row.anchor for row in shown for line in row.new},
            beside=_beside(blocks),
            folded=_folded(blocks),
        )

    def scene_block(self, ordinal: int, rows: list[ChangeRow]) -> SceneChange:
        origin = self.paired.origin.get(ordinal)
        fate = self.paired.scene_fate.get(ordinal, "") if ordinal else ""
        heading, lines = _split_heading(rows) if ordinal else (None, rows)
        old = self.paired.old_scene(origin or LEAD_IN)
        moved = (origin, ordinal) in self.paired.moved_pairs
        is_changed = fate in TOLD_WHOLE or any(row.mark not in QUIET for row in rows)
        if is_changed and fate == SceneFateKind.KEPT:
            fate = SceneFateKind.REWORDED.value
        stood_after = self.paired.old_scene(old.ordinal - 1) if moved and old else None
        targets = self.paired.targets[origin] if origin else []
        is_word_left = moved and (origin, targets[0]) in self.paired.moved_pairs
        return SceneChange(
            fate,
            old,
            self.paired.new_scene(ordinal),
            heading,
            tuple(fold_unchanged(lines)),
            is_changed,
            stood_after,
            self.share(fate, ordinal),
            tuple(self.paired.old_scenes[each - 1] for each in self.paired.joined[ordinal]),
            tuple(self.paired.new_scenes[each - 1] for each in targets if each != ordinal),
            also=tuple(_beside_its_fate(fate, heading, lines, moved=moved)),
            is_word_left=is_word_left,
        )

    def share(self, fate: str, ordinal: int) -> str:
        """Which part of a scene that was split a new one is, or of how many one is made."""
        if fate == SceneFateKind.SPLIT:
            told_in = self.told_in[self.paired.origin[ordinal]]
            return f"part {told_in.index(ordinal) + 1} of {len(told_in)}"
        return f"from {self.sources[ordinal]} scenes" if fate == SceneFateKind.MERGED else ""

    @cached_property
    def told_in(self) -> dict[int, list[int]]:
        """The new scenes that each old one is told in, in order."""
        told_in: dict[int, list[int]] = defaultdict(list)
        for new, old in sorted(self.paired.origin.items()):
            told_in[old].append(new)
        return told_in

    @cached_property
    def sources(self) -> Counter[int]:
        """Of how many old scenes each new one is made."""
        return Counter(new for targets in self.paired.targets.values() for new in targets)

    def departed_scenes(self) -> dict[int, list[SceneChange]]:
        """Old scenes that are cut or moved away, by the new scene they stood behind."""
        departed: dict[int, list[SceneChange]] = defaultdict(list)
        behind = LEAD_IN
        for scene in self.paired.old_scenes:
            targets = self.paired.targets.get(scene.ordinal, [])
            if not targets:
                departed[behind].append(self.cut_scene(scene))
            elif (scene.ordinal, targets[0]) in self.paired.moved_pairs:
                departed[behind].append(self.moved_scene(scene, targets[0]))
            elif own := [target for target in targets if self.paired.origin[target] == scene.ordinal]:
                behind = max(own)
        return departed

    def cut_scene(self, scene: Scene) -> SceneChange:
        span = range(scene.first_line, scene.last_line + 1)
        rows = [self.rows.left_row(self.paired.fate_of[line]) for line in span if line in self.paired.fate_of]
        heading, lines = _split_heading(rows)
        group = (RowGroup(True, tuple(lines)),) if lines else ()
        return SceneChange(SceneFateKind.CUT.value, scene, None, heading, group, True)

    def moved_scene(self, scene: Scene, target: int) -> SceneChange:
        stands, before = self.paired.new_scene(target), self.paired.new_scene(target - 1)
        return SceneChange(MOVED_AWAY, scene, stands, None, (), True, stands_after=before)


def _anchors_of_old(rows: Iterable[ChangeRow]) -> dict[int, str]:
    """Where each old line is shown: for one that moved, where it is now."""
    by_here = sorted(rows, key=lambda row: row.mark != RowMark.MOVED_AWAY)
    return {line: row.anchor for row in by_here for line in row.old}


def _beside(blocks: Iterable[SceneChange]) -> dict[str, str]:
    beside: dict[str, str] = {}
    for block in blocks:
        beside |= {row.anchor: group.anchor for group in block.row_groups for row in group.rows}
        if block.heading:
            beside[block.heading.anchor] = block.anchor
    return beside


def _folded(blocks: Iterable[SceneChange]) -> dict[str, RowGroup]:
    """The unchanged stretches within what changed, by their anchors."""
    among = (block for block in blocks if block.is_changed and block.fate != SceneFateKind.CUT)
    return {group.anchor: group for block in among for group in block.row_groups if group.folded}


def _count_scenes(blocks: Iterable[SceneChange]) -> Counter[str]:
    """How many scenes of each fate are shown as changed: of those that were split the old ones. What stands before the
    first scene is none, and where a moved one stood it is not counted again."""
    shown = [block for block in blocks if block.is_changed and block.fate not in {"", MOVED_AWAY}]
    told = {(fate, _whole(block)) for block in shown for fate in (block.fate, *block.also)}
    return Counter(fate for fate, _ in told)


def _whole(block: SceneChange) -> str:
    """What a scene is counted as: a part of one that was split as the one that it was."""
    return f"split {block.old.ordinal}" if block.fate == SceneFateKind.SPLIT and block.old else block.anchor


def _beside_its_fate(fate: str, heading: ChangeRow | None, lines: Iterable[ChangeRow], *, moved: bool) -> Iterator[str]:
    """What became of a scene beside its fate: one that was split or merged may have moved too, one that moved may have
    another heading, and under another heading there may be other words."""
    if moved and fate != SceneFateKind.MOVED:
        yield SceneFateKind.MOVED.value
    if fate == SceneFateKind.MOVED and heading and heading.mark not in QUIET:
        yield SceneFateKind.RENAMED.value
    if fate in {SceneFateKind.MOVED, SceneFateKind.RENAMED} and any(row.mark not in QUIET for row in lines):
        yield SceneFateKind.REWORDED.value


def _split_heading(rows: list[ChangeRow]) -> tuple[ChangeRow | None, list[ChangeRow]]:
    """The heading of a scene, and its other rows: that of a scene which is part of it now is among these."""
    headings = [index for index, row in enumerate(rows) if row.kind == Kind.SCENE_HEADING]
    standing = (index for index in headings if rows[index].new)
    left = (index for index in headings if rows[index].mark in {RowMark.GONE, RowMark.MOVED_AWAY})
    index = next(standing, next(left, None))
    return (None, rows) if index is None else (rows[index], rows[:index] + rows[index + 1 :])
