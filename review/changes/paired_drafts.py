"""Which lines and scenes of two drafts belong together, as what changed between them is set out."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from review.changes.printed_words import shown_texts
from review.changes.scene_changes import LEAD_IN
from screenplay.comparing import LineFateKind, in_order, shares

if TYPE_CHECKING:
    from collections.abc import Sequence

    from screenplay.comparing import Comparison, LineFate
    from screenplay.script import Scene


class PairedDrafts:
    """A comparison by line and by scene. The scenes are all of both drafts'; without the source, a line that does not
    print is not among the lines.

    `fate_of` has the fate of each old line, `sources` the old lines that each new one has words of, `targets` the new
    scenes that each old one is now, `origin` the old scene that each new one goes on from, `joined` the others that are
    part of it now, `scene_fate` the fate of each new one; `moved_pairs` are the scenes, old and new, that moved, also
    where they were split or merged.
    """

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
        self.origin: dict[int, int] = {LEAD_IN: LEAD_IN, **comparison.origins}
        self.joined: dict[int, list[int]] = defaultdict(list)
        self.scene_fate: dict[int, str] = {}
        self.moved_pairs: set[tuple[int, int]] = set()
        for scene in comparison.scenes:
            if scene.new is not None:
                self.scene_fate.setdefault(scene.new, scene.fate.value)
            if scene.old is None or scene.new is None:
                continue
            self.targets[scene.old].append(scene.new)
            if self.origin[scene.new] != scene.old:
                self.joined[scene.new].append(scene.old)
            if scene.is_moved:
                self.moved_pairs.add((scene.old, scene.new))
        self.came_along = self._came_along()

    def among_shown(self, fate: LineFate) -> LineFate:
        """The fate with the lines that are shown alone: one that is in hidden lines now is gone from the pages."""
        return fate._replace(new=tuple(line for line in fate.new if self.new_texts[line - 1]))

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

    def came_from_elsewhere(self, source: LineFate, line: int) -> bool:
        """Whether a line moved on its own: one that came along with its whole scene did not."""
        pair = (self.old.scene_of[source.old - 1], self.new.scene_of[line - 1])
        if pair[1] not in self.targets[pair[0]]:
            return True
        if (source.old, line) in self.came_along:
            return False
        return source.fate == LineFateKind.MOVED and pair not in self.moved_pairs

    def _came_along(self) -> set[tuple[int, int]]:
        """The lines, old and new, of scenes that are part of another now, and of scenes that others were split into;
        those out of their own order left out."""
        headings = self.comparison.same_headings
        by_scenes: dict[tuple[int, int], list[tuple[int, int]]] = defaultdict(list)
        for fate in self.fate_of.values():
            for line in fate.new:
                old, new = self.old.scene_of[fate.old - 1], self.new.scene_of[line - 1]
                is_part = len(self.targets[old]) > 1 and new in self.targets[old] and headings.get(new) != old
                if old in self.joined[new] or is_part:
                    by_scenes[old, new].append((fate.old, line))
        return {
            lines[at] for lines in by_scenes.values() for at in in_order([line for _, line in lines], may_share=True)
        }

    def staying(self, fate: LineFate, targets: list[int]) -> list[int]:
        return [
            line
            for line in fate.new
            if self.new.scene_of[line - 1] in targets and not self.came_from_elsewhere(fate, line)
        ]

    def old_scene(self, ordinal: int) -> Scene | None:
        return self.old_scenes[ordinal - 1] if ordinal > 0 else None

    def new_scene(self, ordinal: int) -> Scene | None:
        return self.new_scenes[ordinal - 1] if ordinal > 0 else None
