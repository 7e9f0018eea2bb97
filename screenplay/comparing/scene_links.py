"""Which scenes are which in the end, one to one or several, told from where their lines and headings are."""

from __future__ import annotations

from collections import Counter, defaultdict
from typing import TYPE_CHECKING

from screenplay.comparing.ordering import in_order

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from screenplay.comparing.draft_lines import DraftLines

PART = 0.25  # of a scene's lines, for a share of it to count as a part of it
WHOLE = 0.5  # of what is left of a scene, for it to be made of that part
Pair = tuple[int, int]


class SceneLinks:
    """Pairs of scenes, old and new, by ordinal: `all`, in order, with `moved` those out of the order of the rest.

    A heading that stands decides: the two scenes that have it are one, and they are `alone` or the ones that others
    were merged into or parted from. `by_heading` are those, `shared` counts the lines that any two have in common, of
    those that print: sections, notes and the like make no scene a part of another.
    """

    def __init__(self, old: DraftLines, new: DraftLines, targets: Sequence[tuple[int, ...]]) -> None:
        self.old_lines, self.new_lines = _line_counts(old), _line_counts(new)
        theirs = new.scenes
        printed = new.printed
        in_scenes = [
            (scene, theirs[j])
            for scene, text, on in zip(old.scenes, old.printed, targets, strict=True)
            if scene and text
            for j in on
            if printed[j]
        ]
        self.shared = Counter([pair for pair in in_scenes if pair[1]])
        self.by_heading = {
            (old.scenes[i], theirs[j])
            for i, heading in enumerate(old.is_heading)
            if heading
            for j in targets[i]
            if new.is_heading[j]
        }
        self.all = self._links()
        self.of_old: Mapping[int, list[int]] = _grouped(self.all)
        self.of_new: Mapping[int, list[int]] = _grouped([(after, before) for before, after in self.all])
        self.moved = _out_of_order(self.all, self._whole(), self.shared)

    def _links(self) -> list[Pair]:
        """The scenes with one heading; else those with most lines in common both ways; and what is part of them."""
        best_new, best_old = dict(self.by_heading), {after: before for before, after in self.by_heading}
        ranked = sorted(self.shared, key=lambda pair: (-self.shared[pair], pair))
        for before, after in ranked:
            best_new.setdefault(before, after)
            best_old.setdefault(after, before)
        links = {(before, after) for before, after in best_new.items() if best_old[after] == before}
        with_old, with_new = {before for before, _ in links}, {after for _, after in links}
        placed_old, placed_new = self._placed()
        for before, after in ranked:
            count = self.shared[before, after]
            is_from_old = after not in with_new and count >= WHOLE * placed_new[after]
            is_into_new = before not in with_old and count >= WHOLE * placed_old[before]
            if is_from_old and (count >= PART * self.new_lines[after] or count >= PART * self.old_lines[before]):
                links.add((before, after))
            if is_into_new and (count >= PART * self.old_lines[before] or count >= PART * self.new_lines[after]):
                links.add((before, after))
        return sorted(links)

    def _placed(self) -> tuple[Counter[int], Counter[int]]:
        """How many lines of each scene are in any scene of the other draft."""
        placed_old: Counter[int] = Counter()
        placed_new: Counter[int] = Counter()
        for (before, after), count in self.shared.items():
            placed_old[before] += count
            placed_new[after] += count
        return placed_old, placed_new

    def _whole(self) -> list[Pair]:
        """One link for each scene of either draft: by its heading, else with what has most of its lines."""
        ranked = sorted(self.all, key=lambda pair: (pair not in self.by_heading, -self.shared[pair], pair))
        found: dict[int, int] = {}
        taken: set[int] = set()
        for before, after in ranked:
            if before not in found and after not in taken:
                found[before] = after
                taken.add(after)
        return sorted(found.items())


def _grouped(pairs: Sequence[Pair]) -> Mapping[int, list[int]]:
    grouped = defaultdict(list)
    for one, other in pairs:
        grouped[one].append(other)
    return grouped


def _line_counts(draft: DraftLines) -> dict[int, int]:
    """How many lines of each scene print."""
    counts = dict.fromkeys(filter(None, draft.scenes), 0)
    for scene, text in zip(draft.scenes, draft.printed, strict=True):
        if scene and text:
            counts[scene] += 1
    return counts


def _out_of_order(links: Sequence[Pair], whole: Sequence[Pair], lines: Counter[Pair]) -> set[Pair]:
    """Of the `whole` scenes the fewest without which the rest keep their order, and what moved along with one: a part
    of it, or what is part of it now.

    Of as few, those that leave most of the other links in that order too, for a part that was split off shows where its
    scene stood; and then those with the fewest lines.
    """
    part = 1 + sum(lines[pair] for pair in links)
    scene = 1 + part * (1 + len(links))
    ones = set(whole)
    weights = [lines[pair] + (scene if pair in ones else part) for pair in links]
    chain = in_order([after for _, after in links], weights, may_share=True)
    left = set(links).difference([links[at] for at in chain])
    moved_old, moved_new = {before for before, _ in left & ones}, {after for _, after in left & ones}
    return {pair for pair in left if pair in ones or pair[0] in moved_old or pair[1] in moved_new}
