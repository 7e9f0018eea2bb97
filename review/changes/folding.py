"""What of the changes is out of view until asked for: lines, and whole scenes, in which nothing changed."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from review.changes.scene_changes import QUIET, ChangeRow, RowGroup, SceneChange, Unchanged
from screenplay import Kind

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

SAME_LINES_SHOWN = 2  # unchanged lines left in view on either side of a change
FEWEST_FOLDED = 3


def fold_unchanged(rows: Sequence[ChangeRow]) -> Iterable[RowGroup]:
    """Rows in row_groups, the unchanged ones folded but for a few on either side of a change."""
    in_view = _rows_in_view(rows)
    for is_near, indexes in groupby(range(len(rows)), key=in_view.__contains__):
        group = tuple(rows[index] for index in indexes)
        yield RowGroup(not is_near and len(group) >= FEWEST_FOLDED, group)


def gather_unchanged(blocks: Iterable[SceneChange]) -> Iterable[SceneChange | Unchanged]:
    """The scenes with those that follow each other and have nothing changed in them told as one."""
    for is_changed, group in groupby(blocks, key=lambda block: block.is_changed):
        if is_changed:
            yield from group
        elif scenes := tuple(block for block in group if block.new):
            yield Unchanged(scenes)


def _rows_in_view(rows: Sequence[ChangeRow]) -> set[int]:
    """Indexes of the changed rows and a few around each; a cue is not left in view without its speech."""
    near = {
        other
        for index, row in enumerate(rows)
        if row.mark not in QUIET
        for other in range(index - SAME_LINES_SHOWN, index + SAME_LINES_SHOWN + 1)
    }
    return {index for index in near if index + 1 in near or not _is_quiet_cue(rows, index)}


def _is_quiet_cue(rows: Sequence[ChangeRow], index: int) -> bool:
    return 0 <= index < len(rows) and rows[index].kind == Kind.CHARACTER and rows[index].mark in QUIET
