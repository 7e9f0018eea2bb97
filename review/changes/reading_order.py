"""What changed between two drafts, set out as it is read: scene by scene in the new draft's order, each line once."""

from __future__ import annotations

from collections import Counter, defaultdict
from functools import lru_cache
from itertools import groupby
from typing import TYPE_CHECKING

from review.changes.printed_words import changed_words, line_words, shown_texts
from review.changes.scene_changes import (
    LEAD_IN,
    MOVED_AWAY,
    QUIET,
    ChangeRow,
    Changes,
    Mark,
    OtherEnd,
    RowGroup,
    SceneChange,
    Unchanged,
)
from review.drafts.scripts import COMPARISONS_KEPT, compare_drafts, laid_out
from screenplay import Kind
from screenplay.comparing import LineFateKind, SceneFateKind, shares

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from review.drafts.models import Draft, PagesKey
    from screenplay.comparing import Comparison, LineFate
    from screenplay.script import Scene

SAME_LINES_SHOWN = 2  # unchanged lines left in view on either side of a change
FEWEST_FOLDED = 3
FATES_OF_THE_OLD = frozenset({SceneFateKind.CUT, SceneFateKind.SPLIT, SceneFateKind.MERGED})


def changes_between(old: Draft, new: Draft, *, with_source: bool) -> Changes:
    """What changed from one draft to another; worked out once for each pair of texts and their page setting.

    Without the source it is what changed on the pages: a writer's notes inside the script, text taken out, sections
    and synopses are not told.
    """
    return _changes_between(old.pages_key, new.pages_key, with_source)


@lru_cache(maxsize=COMPARISONS_KEPT)
def _changes_between(old: PagesKey, new: PagesKey, with_source: bool) -> Changes:
    scenes = laid_out(old.draft).scenes, laid_out(new.draft).scenes
    return set_out(compare_drafts(old.draft, new.draft), *scenes, with_source=with_source)


def set_out(
    comparison: Comparison, old_scenes: Sequence[Scene], new_scenes: Sequence[Scene], *, with_source: bool
) -> Changes:
    """The changes between two drafts in reading order, for the screen that shows them; the scenes are all of theirs."""
    return _SettingOut(comparison, old_scenes, new_scenes, with_source).changes()


def count_scenes(comparison: Comparison) -> Counter[str]:
    """How many scenes came to each fate: the new draft's, but the old one's for cut, split and merged ones."""
    told = {(scene.fate, scene.old if scene.fate in FATES_OF_THE_OLD else scene.new) for scene in comparison.scenes}
    return Counter(fate.value for fate, _ in told)


class _SettingOut:
    """The comparison by line and by scene, as the setting out looks things up."""

    def __init__(
        self, comparison: Comparison, old_scenes: Sequence[Scene], new_scenes: Sequence[Scene], with_source: bool
    ) -> None:
        self.comparison = comparison
        self.old, self.new = comparison.old, comparison.new
        self.old_scenes, self.new_scenes = old_scenes, new_scenes
        self.old_texts = shown_texts(self.old, with_source)
        self.new_texts = shown_texts(self.new, with_source)
        self.fate_of = {fate.old: self.among_shown(fate) for fate in comparison.lines if self.old_texts[fate.old - 1]}
        self.sources: dict[int, list[LineFate]] = defaultdict(list)
        for fate in self.fate_of.values():
            for line in fate.new:
                self.sources[line].append(fate)
        self.targets: dict[int, list[int]] = defaultdict(list, {LEAD_IN: [LEAD_IN]})
        self.origin: dict[int, int] = {LEAD_IN: LEAD_IN}
        self.scene_fate: dict[int, str] = {}
        self.moved_pairs: set[tuple[int, int]] = set()
        for scene in comparison.scenes:
            if scene.new is not None:
                self.scene_fate.setdefault(scene.new, scene.fate.value)
            if scene.old is None or scene.new is None:
                continue
            self.targets[scene.old].append(scene.new)
            self.origin.setdefault(scene.new, scene.old)
            if scene.fate == SceneFateKind.MOVED:
                self.moved_pairs.add((scene.old, scene.new))

    def among_shown(self, fate: LineFate) -> LineFate:
        """The fate with the lines that are shown alone: one that is in hidden lines now is gone from the pages."""
        return fate._replace(new=tuple(line for line in fate.new if self.new_texts[line - 1]))

    def changes(self) -> Changes:
        rows = self.rows_by_new_scene()
        blocks: list[SceneChange] = []
        departed = self.departed_scenes()
        for ordinal in range(len(self.new_scenes) + 1):
            if ordinal != LEAD_IN or rows[LEAD_IN]:
                blocks.append(self.scene_block(ordinal, rows[ordinal]))
            blocks.extend(departed.get(ordinal, ()))
        shown = [row for block in blocks for row in block.rows]
        shown += [block.heading for block in blocks if block.heading]
        moved = {fate.old for fate in self.fate_of.values() if fate.fate == LineFateKind.MOVED and fate.new}
        told_as_moved = {line for row in shown if row.mark == Mark.MOVED_HERE for line in row.old}
        return Changes(
            blocks=tuple(_gather_unchanged(blocks)),
            renames=tuple(self.comparison.renames),
            scenes=count_scenes(self.comparison) - _reworded_out_of_sight(blocks),
            lines=Counter(row.mark.value for row in shown),
            moved_with_scenes=len(moved - told_as_moved),
            changed_lines=frozenset(moved.union(*(row.old for row in shown if row.mark not in QUIET))),
            anchors=_anchors_of_old(shown),
            new_anchors={line: row.anchor for row in shown for line in row.new},
            beside=_beside(blocks),
        )

    # The lines of the new draft, with those that left it where they stood.

    def rows_by_new_scene(self) -> dict[int, list[ChangeRow]]:
        placed: dict[int, list[tuple[float, int, ChangeRow]]] = defaultdict(list)
        for row in self.new_rows():
            placed[self.new.scene_of[row.new[0] - 1]].append((row.new[0], 0, row))
        for scene, anchor, row in self.left_rows():
            placed[scene].append((anchor, row.old[0], row))
        return defaultdict(
            list, {scene: [row for _, _, row in sorted(rows, key=_position)] for scene, rows in placed.items()}
        )

    def new_rows(self) -> Iterable[ChangeRow]:
        told: set[int] = set()
        for line, kind in enumerate(self.new.kinds, 1):
            if kind == Kind.BLANK or line in told or not self.new_texts[line - 1]:
                continue
            row = self.new_row(line, kind)
            told.update(row.new)
            yield row

    def new_row(self, line: int, kind: Kind) -> ChangeRow:
        sources = self.sources.get(line, [])
        if not sources:
            return ChangeRow(Mark.ADDED, kind, (), (line,), line_words("added", [self.new_texts[line - 1]]))
        sources = sorted(sources)
        new = self.told_together(sources, line)
        at_home = [source for source in sources if self.home(source) in new and not self.went_into_another(source)]
        old = tuple(source.old for source in at_home)
        before = [self.share(source, new) for source in at_home or sources]
        after = [self.new_texts[number - 1].strip() for number in new]
        is_same = " ".join(before) == " ".join(after)
        words = line_words("same", after) if is_same else changed_words(before, after)
        first = (at_home or sources)[0]
        if self.came_from_elsewhere(first, line):
            stood = f"old-{first.old}" if old else f"new-{self.home(first)}"
            other = OtherEnd(first.old, _scene(self.old_scenes, self.old.scene_of[first.old - 1]), stood)
            return ChangeRow(Mark.MOVED_HERE, kind, old, new, words, other)
        return ChangeRow(self.mark(sources, is_same), kind, old, new, words)

    def told_together(self, sources: list[LineFate], line: int) -> tuple[int, ...]:
        """The line, with the further parts of the same old line that follow it, if nothing else is in any."""
        together = [line]
        for part in sources[0].new if len(sources) == 1 else ():
            between = range(together[-1] + 1, part)
            is_next = part > together[-1] and not any(self.new_texts[other - 1] for other in between)
            if is_next and len(self.sources[part]) == 1:
                together.append(part)
        return tuple(together)

    def home(self, source: LineFate) -> int:
        """The new line that an old one is told with; the further lines that have words of it are told without it."""
        staying = (line for line in source.new if not self.came_from_elsewhere(source, line))
        return next(staying, source.new[0])

    def went_into_another(self, source: LineFate) -> bool:
        """Whether a line came from elsewhere into one that another stayed on: it is told where it stood."""
        line = self.home(source)
        return self.came_from_elsewhere(source, line) and not all(
            self.came_from_elsewhere(other, line) for other in self.sources[line]
        )

    def share(self, source: LineFate, new: tuple[int, ...]) -> str:
        """What of an old line's text is told with some of the new lines it is on; the rest is told with the others."""
        text = self.old_texts[source.old - 1].strip()
        if set(source.new) <= set(new):
            return text
        pieces = shares(text, [self.new_texts[line - 1].strip() for line in source.new])
        return "".join(piece for line, piece in zip(source.new, pieces, strict=True) if line in new).strip()

    def mark(self, sources: list[LineFate], is_same: bool) -> Mark:
        if is_same and len(sources) == 1:
            return Mark.SAME
        return Mark.RENAMED if all(source.old in self.comparison.renamed for source in sources) else Mark.REWORDED

    def came_from_elsewhere(self, source: LineFate, line: int) -> bool:
        """Whether a line moved on its own: one that came along with its whole scene did not."""
        pair = (self.old.scene_of[source.old - 1], self.new.scene_of[line - 1])
        if pair[1] not in self.targets[pair[0]]:
            return True
        return source.fate == LineFateKind.MOVED and pair not in self.moved_pairs

    def left_rows(self) -> Iterable[tuple[int, float, ChangeRow]]:
        """(new scene, the new line it stands behind, row) for each old line that left a scene that is still there."""
        for ordinal, lines in groupby(self.fate_of.values(), key=lambda fate: self.old.scene_of[fate.old - 1]):
            if targets := self.targets.get(ordinal):
                yield from self.left_rows_of_scene(targets, list(lines))

    def left_rows_of_scene(self, targets: list[int], fates: list[LineFate]) -> Iterable[tuple[int, float, ChangeRow]]:
        first = next((line for fate in fates for line in self.staying(fate, targets)), None)
        anchor = 0.0 if first is None else first - 0.5
        scene = targets[0] if first is None else self.new.scene_of[first - 1]
        for fate in fates:
            if staying := self.staying(fate, targets):
                anchor = max(staying)
                scene = self.new.scene_of[int(anchor) - 1]
            else:
                yield scene, anchor, self.left_row(fate)

    def staying(self, fate: LineFate, targets: list[int]) -> list[int]:
        return [
            line
            for line in fate.new
            if self.new.scene_of[line - 1] in targets and not self.came_from_elsewhere(fate, line)
        ]

    def left_row(self, fate: LineFate) -> ChangeRow:
        kind = self.old.kinds[fate.old - 1]
        words = line_words("cut", [self.old_texts[fate.old - 1]])
        if not fate.new:
            return ChangeRow(Mark.GONE, kind, (fate.old,), (), words)
        line = fate.new[0]
        other = OtherEnd(line, _scene(self.new_scenes, self.new.scene_of[line - 1]), f"new-{line}")
        mark = Mark.REWORDED if self.went_into_another(fate) else Mark.MOVED_AWAY
        return ChangeRow(mark, kind, (fate.old,), (), words, other)

    # Scenes

    def scene_block(self, ordinal: int, rows: list[ChangeRow]) -> SceneChange:
        origin = self.origin.get(ordinal)
        fate = self.scene_fate.get(ordinal, "") if ordinal else ""
        heading, lines = _split_heading(rows) if ordinal else (None, rows)
        old = _scene(self.old_scenes, origin or LEAD_IN)
        moved = fate == SceneFateKind.MOVED
        is_changed = moved or any(row.mark not in QUIET for row in rows)
        stood_after = _scene(self.old_scenes, old.ordinal - 1) if moved and old else None
        return SceneChange(
            fate, old, _scene(self.new_scenes, ordinal), heading, tuple(fold(lines)), is_changed, stood_after
        )

    def departed_scenes(self) -> dict[int, list[SceneChange]]:
        """Old scenes that are cut or moved away, by the new scene they stood behind."""
        departed: dict[int, list[SceneChange]] = defaultdict(list)
        behind = LEAD_IN
        for scene in self.old_scenes:
            targets = self.targets.get(scene.ordinal, [])
            if not targets:
                departed[behind].append(self.cut_scene(scene))
            elif (scene.ordinal, targets[0]) in self.moved_pairs:
                departed[behind].append(self.moved_scene(scene, targets[0]))
            else:
                behind = max(targets)
        return departed

    def cut_scene(self, scene: Scene) -> SceneChange:
        span = range(scene.first_line, scene.last_line + 1)
        rows = [self.left_row(self.fate_of[line]) for line in span if line in self.fate_of]
        heading, lines = _split_heading(rows)
        group = (RowGroup(True, tuple(lines)),) if lines else ()
        return SceneChange(SceneFateKind.CUT.value, scene, None, heading, group, True)

    def moved_scene(self, scene: Scene, target: int) -> SceneChange:
        return SceneChange(MOVED_AWAY, scene, _scene(self.new_scenes, target), None, (), True)


def _anchors_of_old(rows: Iterable[ChangeRow]) -> dict[int, str]:
    """Where each old line is shown: for one that moved, where it is now."""
    by_here = sorted(rows, key=lambda row: row.mark != Mark.MOVED_AWAY)
    return {line: row.anchor for row in by_here for line in row.old}


def _beside(blocks: Iterable[SceneChange]) -> dict[str, str]:
    beside: dict[str, str] = {}
    for block in blocks:
        beside |= {row.anchor: group.anchor for group in block.row_groups for row in group.rows}
        if block.heading:
            beside[block.heading.anchor] = block.anchor
    return beside


def _reworded_out_of_sight(blocks: Iterable[SceneChange]) -> Counter[str]:
    """Scenes whose only changes are in lines, or in marks, that are not shown."""
    fate = SceneFateKind.REWORDED.value
    return Counter({fate: sum(block.fate == fate and not block.is_changed for block in blocks)})


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


def fold(rows: Sequence[ChangeRow]) -> Iterable[RowGroup]:
    """Rows in row_groups, the unchanged ones folded but for a few on either side of a change."""
    in_view = _rows_in_view(rows)
    for is_near, indexes in groupby(range(len(rows)), key=in_view.__contains__):
        group = tuple(rows[index] for index in indexes)
        yield RowGroup(not is_near and len(group) >= FEWEST_FOLDED, group)


def _gather_unchanged(blocks: Iterable[SceneChange]) -> Iterable[SceneChange | Unchanged]:
    for is_changed, group in groupby(blocks, key=lambda block: block.is_changed):
        if is_changed:
            yield from group
        elif scenes := tuple(block for block in group if block.new):
            yield Unchanged(scenes)


def _split_heading(rows: list[ChangeRow]) -> tuple[ChangeRow | None, list[ChangeRow]]:
    for index, row in enumerate(rows):
        if row.kind == Kind.SCENE_HEADING and (row.new or row.mark in {Mark.GONE, Mark.MOVED_AWAY}):
            return row, rows[:index] + rows[index + 1 :]
    return None, rows


def _scene(scenes: Sequence[Scene], ordinal: int) -> Scene | None:
    return scenes[ordinal - 1] if ordinal > 0 else None


def _position(placed: tuple[float, int, ChangeRow]) -> tuple[float, int]:
    return placed[:2]
