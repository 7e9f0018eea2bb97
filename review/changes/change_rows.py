"""The rows in which the changed lines of two drafts are told: those of the new one, and those that left it."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby
from typing import TYPE_CHECKING

from review.changes.printed_words import changed_words, line_words
from review.changes.scene_changes import ChangeRow, OtherEnd, RowMark
from screenplay import Kind
from screenplay.comparing import LineFateKind
from screenplay.next_draft import SetOtherwise

if TYPE_CHECKING:
    from collections.abc import Iterable

    from review.changes.paired_drafts import PairedDrafts
    from screenplay.comparing import LineFate

_NAMING = frozenset({Kind.CHARACTER, Kind.SCENE_HEADING})  # lines that are told once for all where a name changed


@dataclass(frozen=True)
class ChangeRows:
    """The rows of two drafts that are paired."""

    paired: PairedDrafts

    @cached_property
    def setting(self) -> SetOtherwise:
        return SetOtherwise(self.paired.comparison)

    def by_new_scene(self) -> dict[int, list[ChangeRow]]:
        """The rows of each new scene, in order: its lines, with those that left it where they stood."""
        placed: dict[int, list[tuple[float, int, ChangeRow]]] = defaultdict(list)
        for row in self.new_rows():
            placed[self.paired.new.scene_of[row.new[0] - 1]].append((row.new[0], 0, row))
        for scene, anchor, row in self.left_rows():
            placed[scene].append((anchor, row.old[0], row))
        return defaultdict(
            list, {scene: [row for _, _, row in sorted(rows, key=_position)] for scene, rows in placed.items()}
        )

    def new_rows(self) -> Iterable[ChangeRow]:
        told: set[int] = set()
        for line, kind in enumerate(self.paired.new.kinds, 1):
            if kind == Kind.BLANK or line in told or not self.paired.new_texts[line - 1]:
                continue
            row = self.new_row(line, kind)
            told.update(row.new)
            yield row

    def new_row(self, line: int, kind: Kind) -> ChangeRow:
        sources = self.paired.sources.get(line, [])
        if not sources:
            return ChangeRow(RowMark.ADDED, kind, (), (line,), line_words("added", [self.paired.new_texts[line - 1]]))
        sources = sorted(sources)
        new = self.told_together(sources, line)
        here = (source for source in sources if self.paired.home(source) in new)
        at_home = [source for source in here if not self.paired.went_into_another(source)]
        old = tuple(source.old for source in at_home)
        before = [self.paired.share(source, new) for source in at_home or sources]
        after = [self.paired.new_texts[number - 1].strip() for number in new]
        is_same = " ".join(before).split() == " ".join(after).split()
        is_one = is_same and len(before) == len(after) == 1
        words = line_words("same", after) if is_one else changed_words(before, after)
        remark = self.setting.told(new)
        first = (at_home or sources)[0]
        if self.paired.came_from_elsewhere(first, line):
            stood = f"old-{first.old}" if old else f"new-{self.paired.home(first)}"
            left = self.paired.old.scene_of[first.old - 1]
            is_within = self.paired.origin.get(self.paired.new.scene_of[line - 1]) == left
            other = OtherEnd(first.old, self.paired.old_scene(left), stood, is_within)
            return ChangeRow(RowMark.MOVED_HERE, kind, old, new, words, other, remark)
        return ChangeRow(self.mark(sources, new, is_same=is_same), kind, old, new, words, remark=remark)

    def told_together(self, sources: list[LineFate], line: int) -> tuple[int, ...]:
        """The line, with the further parts of the same old line that follow it, if nothing else is in any."""
        together = [line]
        for part in sources[0].new if len(sources) == 1 else ():
            between = range(together[-1] + 1, part)
            is_next = part > together[-1] and not any(self.paired.new_texts[other - 1] for other in between)
            if is_next and len(self.paired.sources[part]) == 1:
                together.append(part)
        return tuple(together)

    def mark(self, sources: list[LineFate], new: tuple[int, ...], *, is_same: bool) -> RowMark:
        renamed = self.paired.comparison.renamed
        is_naming = all(self.paired.new.kinds[line - 1] in _NAMING for line in new)
        is_renamed = is_naming and all(
            source.old in renamed or source.fate == LineFateKind.NUMBERED for source in sources
        )
        if any(map(self.setting.is_so, new)):
            return RowMark.SET if is_same or is_renamed else RowMark.REWORDED
        if is_same and len(sources) == 1:
            return RowMark.SAME
        return RowMark.RENAMED if is_renamed else RowMark.REWORDED

    def left_rows(self) -> Iterable[tuple[int, float, ChangeRow]]:
        """(new scene, the new line it stands behind, row) for each old line that left a scene that is still there."""
        scene_of = self.paired.old.scene_of
        for ordinal, lines in groupby(self.paired.fate_of.values(), key=lambda fate: scene_of[fate.old - 1]):
            if targets := self.paired.targets.get(ordinal):
                yield from self.left_rows_of_scene(targets, list(lines))

    def left_rows_of_scene(self, targets: list[int], fates: list[LineFate]) -> Iterable[tuple[int, float, ChangeRow]]:
        first = next((line for fate in fates for line in self.paired.staying(fate, targets)), None)
        anchor = 0.0 if first is None else first - 0.5
        scene = targets[0] if first is None else self.paired.new.scene_of[first - 1]
        for fate in fates:
            if staying := self.paired.staying(fate, targets):
                anchor = max(staying)
                scene = self.paired.new.scene_of[int(anchor) - 1]
            else:
                yield scene, anchor, self.left_row(fate)

    def left_row(self, fate: LineFate) -> ChangeRow:
        kind = self.paired.old.kinds[fate.old - 1]
        words = line_words("cut", [self.paired.old_texts[fate.old - 1]])
        if not fate.new:
            return ChangeRow(RowMark.GONE, kind, (fate.old,), (), words, remark=self.left_remark(fate.old, kind))
        line = fate.new[0]
        came = self.paired.new.scene_of[line - 1]
        is_within = self.paired.origin.get(came) == self.paired.old.scene_of[fate.old - 1]
        other = OtherEnd(line, self.paired.new_scene(came), f"new-{line}", is_within)
        mark = RowMark.REWORDED if self.paired.went_into_another(fate) else RowMark.MOVED_AWAY
        return ChangeRow(mark, kind, (fate.old,), (), words, other)

    def left_remark(self, line: int, kind: Kind) -> str:
        """Of a heading that is gone while its scene is part of another: that its lines are there, or some of them."""
        scene_of = self.paired.old.scene_of
        scene = scene_of[line - 1]
        into = [new for new in self.paired.targets.get(scene, ()) if scene in self.paired.joined[new]]
        if kind != Kind.SCENE_HEADING or not into:
            return ""
        under = [fate for fate in self.paired.fate_of.values() if scene_of[fate.old - 1] == scene and fate.old != line]
        what = "What stood under it" if all(fate.new for fate in under) else "What is left of what stood under it"
        return f"{what} is part of this scene now."


def _position(placed: tuple[float, int, ChangeRow]) -> tuple[float, int]:
    return placed[:2]
