"""What of a draft's pages is revised: the rows that get an asterisk, told from what lies between two drafts.

A row is revised where words of it are new or reworded, where its line moved there, or where something was cut or moved
away to another scene: then it is the row that follows the cut, and at the end of the script the one before it. So is a
row that paragraphs were joined or parted at, or that a blank line came in above or went, and both of two speeches set
side by side, or no longer; and OMITTED in its first draft. What a new row begins with because words above it came or
went is not, nor are words that print as they did.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING

from screenplay.comparing import LineFateKind, word_changes
from screenplay.next_draft.set_otherwise import SetOtherwise

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

    from screenplay.comparing import Comparison, LineFate
    from screenplay.model import Printed
    from screenplay.page import Layout, SceneNumber

__all__ = ["RevisionMarks", "marked_rows", "marks_between"]

_END = 1 << 40  # an offset after every character of a line
_WHOLE = (0, _END)
_BEGINNING = (0, 0)
_SEAM = " \ue000 "  # between lines that are one now: a character that Unicode leaves to private use
Offsets = tuple[int, int]


@dataclass(frozen=True)
class RevisionMarks:
    """What is revised: in each source line of the new draft, (start, end) as offsets in it, equal where something
    was cut; and the numbers of the scenes that are OMITTED for the first time."""

    in_lines: Mapping[int, tuple[Offsets, ...]] = field(default_factory=dict)
    omitted: frozenset[str] = frozenset()


def marks_between(
    comparison: Comparison, old_numbers: Sequence[SceneNumber] = (), new_numbers: Sequence[SceneNumber] = ()
) -> RevisionMarks:
    """What is revised between two drafts. Where both have locked scene numbers, a scene that is cut shows in its
    OMITTED alone."""
    lines = _PrintedLines(comparison)
    old, new = lines.old, lines.new
    omitted = _omitted_first(old_numbers, new_numbers)
    marked: dict[int, list[Offsets]] = defaultdict(list)
    for line, offsets in lines.marks():
        marked[line].append(offsets)
    cut_scenes = {ordinal for number, ordinal in old_numbers if ordinal and number in omitted}
    gone = {line for line in old if not any(on in new for on in _on(comparison, line))} | _moved_away(comparison, old)
    shown = {line for line in gone if comparison.old.scene_of[line - 1] not in cut_scenes}
    for line in _after_cuts(comparison, [*old], shown, gone, [*new]):
        marked[line].append(_BEGINNING)
    return RevisionMarks({line: tuple(found) for line, found in marked.items() if found}, omitted)


def marked_rows(
    layout: Layout, marks: RevisionMarks, swapped: Collection[str] | None = None
) -> dict[int, frozenset[int]]:
    """The rows of each page, counted from 0, that are revised, by the page's number; pages without any are left out.

    Where pages are `swapped` alone, by their labels, there are marks on these alone: one for a cut at the end of a page
    is on its last row, and not on the first of the next.
    """
    rows: dict[int, set[int]] = defaultdict(set)
    starts: dict[int, list[tuple[int, int, int]]] = defaultdict(list)  # of each line: (offset, page, row)
    for page in layout.pages:
        for at, row in enumerate(page.rows):
            if row.added == "omitted" and row.number in marks.omitted:
                rows[page.number].add(at)
            for cell in row.cells:
                if cell.line is not None and cell.line in marks.in_lines:
                    starts[cell.line].append((cell.runs[0].start, page.number, at))
    for line, found in starts.items():
        ends = [*(start for start, _, _ in found[1:]), _END + 1]
        for index, ((start, page_number, at), end) in enumerate(zip(found, ends, strict=True)):
            first = start if index else 0
            if any(begin < end and max(stop, begin + 1) > first for begin, stop in marks.in_lines[line]):
                rows[page_number].add(at)
    if swapped is not None:
        rows = _on_swapped(rows, layout, swapped)
    return {number: frozenset(found) for number, found in sorted(rows.items())}


def _on_swapped(rows: Mapping[int, set[int]], layout: Layout, swapped: Collection[str]) -> dict[int, set[int]]:
    kept = {number: found for number, found in rows.items() if layout.label_of(number) in swapped}
    for number in rows.keys() - kept.keys():
        if 0 in rows[number] and number > 1 and layout.label_of(number - 1) in swapped:
            kept.setdefault(number - 1, set()).add(len(layout.pages[number - 2].rows) - 1)
    return kept


def _on(comparison: Comparison, line: int) -> tuple[int, ...]:
    fate = comparison.by_old.get(line)
    return fate.new if fate else ()


class _PrintedLines:
    """The printed lines of two drafts, by number, and how each is set."""

    def __init__(self, comparison: Comparison) -> None:
        self.setting = SetOtherwise(comparison)
        self.old, self.new = self.setting.old.printed, self.setting.new.printed
        self.sources = self.setting.sources

    def marks(self) -> Iterator[tuple[int, Offsets]]:
        """Where the lines of the new draft are revised: a line, and offsets in it."""
        for line, printed in self.new.items():
            before = self.sources.get(line, ())
            if self._is_new(line, before):
                yield line, _WHOLE
                continue
            yield from ((line, offsets) for offsets in self._changed(line, printed, before))
            if self.setting.stands_otherwise(line):
                yield line, _BEGINNING

    def _is_new(self, line: int, before: Sequence[LineFate]) -> bool:
        """Whether a line is new where it stands, with all its words."""
        if not before or any(fate.fate is LineFateKind.MOVED for fate in before):
            return True
        if len(before) > 1 and any(fate.fate is LineFateKind.SPLIT for fate in before):
            return True
        return self.setting.is_another_kind(line) or self.setting.is_on_another_side(line)

    def _changed(self, line: int, printed: Printed, before: Sequence[LineFate]) -> Iterator[Offsets]:
        """Where words of a line are not those that were there; where one was added to another, the seam."""
        parts = [part for part in before[0].new if part in self.new]
        texts = [self.new[part].text for part in parts]
        at = parts.index(line)
        begins = sum(len(text) + 1 for text in texts[:at])
        was = _SEAM.join(self.old[fate.old].text for fate in before)
        for start, end in _changes(was, " ".join(texts)):
            if begins <= start < begins + len(printed.text) or begins < end <= begins + len(printed.text):
                yield _in_source(printed, start - begins, end - begins)


def _changes(was: str, text: str) -> Iterator[Offsets]:
    """Where a text is not what it was: from one character to another, or between two where something was cut."""
    if was.split() == text.split():
        return
    at = 0
    for change in word_changes(was, text):
        if change.op == "cut":
            follows = len(text) - len(text[at:].lstrip())
            yield follows, follows
        elif change.op == "added":
            yield at, at + len(change.text)
        at += len(change.text) if change.op != "cut" else 0


def _in_source(printed: Printed, start: int, end: int) -> Offsets:
    """A stretch of what a line prints as offsets in its source line."""
    last = len(printed.text) - 1
    if start == end:
        offset = printed.source_offset(min(start, last))
        return offset, offset
    return printed.source_offset(max(start, 0)), printed.source_offset(min(end - 1, last)) + 1


def _omitted_first(old_numbers: Sequence[SceneNumber], new_numbers: Sequence[SceneNumber]) -> frozenset[str]:
    """The numbers that are OMITTED in the new draft and stood in the old one, where both have locked numbers."""
    standing = {number for number, ordinal in old_numbers if ordinal}
    return frozenset(number for number, ordinal in new_numbers if number in standing and not ordinal)


def _moved_away(comparison: Comparison, old: Iterable[int]) -> set[int]:
    """The old lines that are in another scene now, and did not come along with theirs."""
    along = {(scene.old, scene.new) for scene in comparison.scenes}
    old_scenes, new_scenes = comparison.old.scene_of, comparison.new.scene_of
    return {
        line
        for line in comparison.moved.intersection(old)
        if all((old_scenes[line - 1], new_scenes[on - 1]) not in along for on in _on(comparison, line))
    }


def _after_cuts(
    comparison: Comparison, old: list[int], shown: set[int], gone: set[int], new: list[int]
) -> Iterator[int]:
    """The new line that stands after each of the old lines that are gone and to be shown: in a scene that moved, after
    what stood before them there."""
    following = dict(pairwise(new))
    moved = {(scene.old, scene.new) for scene in comparison.scenes if scene.is_moved}
    old_scenes, new_scenes = comparison.old.scene_of, comparison.new.scene_of
    last: int | None = None  # the new line on which the last one that stays in order stands
    along: tuple[int, int] | None = None  # the last one that moved along with its scene: that, and the new line
    for line in old:
        scene = old_scenes[line - 1]
        if line not in gone:
            fate = comparison.by_old[line]
            stands = max(fate.new)
            if (scene, new_scenes[stands - 1]) in moved:
                along = scene, stands
            elif fate.fate is not LineFateKind.MOVED:
                last = stands
        elif line in shown and new:
            above = along[1] if along and along[0] == scene else last
            yield following.get(above, above) if above is not None else new[0]
