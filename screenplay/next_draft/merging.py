"""Two texts that were both made from a third, put together scene by scene; where they differ, nothing is guessed.

What one version alone changed is taken over, and what both changed alike, once. What each changed in its own way is a
conflict, which shows both. A scene that one version moved is merged where it stands now, with what the other version
changed in it, and so is a paragraph. Sections, synopses and notes right above a heading are none of the words of the
scene before it.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from itertools import groupby
from typing import TYPE_CHECKING

from screenplay.comparing import LineFateKind, compare
from screenplay.fountain import parse
from screenplay.model import Kind
from screenplay.next_draft.line_merge import (
    NOWHERE,
    Clash,
    Lines,
    PassageKinds,
    TextLine,
    Versions,
    lines_of,
    merge_lines,
    reads_the_same,
    three_way,
)
from screenplay.next_draft.merge_units import Units, link_units
from screenplay.next_draft.merged_text import Merged, MergedText
from screenplay.next_draft.scene_order import OURS, THEIRS, Added, InOrder, Moved, Whole, order_scenes

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping

    from screenplay.comparing import Comparison
    from screenplay.model import Screenplay
    from screenplay.next_draft.merge_units import UnitLinks


def merge(base: Screenplay | str, ours: Screenplay | str, theirs: Screenplay | str) -> Merged:
    """Put the changes that two texts made to `base` into one: three-way, scene by scene and in a scene by whole lines.

    A text merged with itself, or with what it was made from, is itself to the last character, and merging the other way
    round gives the same with the versions of each conflict changed over. Each line that a version added stands in the
    text or in a conflict, and so does each that both kept; of boneyards that overlap, the marks of one are left. Scenes
    added by both in one place stand in the order of their texts. Where the versions differ in nothing but white space
    at the end of a line or a scene, the longer is taken, and where one changed that alone, the other's words. Takes
    about the time of two comparisons.
    """
    base, ours, theirs = (parse(text) if isinstance(text, str) else text for text in (base, ours, theirs))
    return _Merging(compare(base, ours), compare(base, theirs)).merged()


class _Text:
    """The lines of a script, which of them each of its units has, and what each is; `usual` is the line end that
    most of them have, `is_ended` says whether the last has one."""

    def __init__(self, script: Screenplay, usual: str = "\n") -> None:
        self.units = Units(script)
        self.lines = lines_of(script.source)
        ends = Counter(line.end for line in self.lines if line.end)
        self.usual = max(ends, key=lambda end: (ends[end], end), default=usual)
        self.kinds = script.kinds
        self.is_ended = not self.lines or self.lines[-1].end != ""

    def end_as(self, usual: str) -> None:
        """Let the lines that end as most do, and a last one that has no end, end so."""
        if usual != self.usual or not self.is_ended:
            self.lines = tuple(TextLine(text, usual if end in ("", self.usual) else end) for text, end in self.lines)

    def span(self, scenes: range) -> range:
        """The positions of the lines of scenes in a row."""
        return range(bisect_left(self.units.of, scenes.start), bisect_left(self.units.of, scenes.stop))

    def of(self, scenes: range) -> Lines:
        """The lines of scenes in a row."""
        span = self.span(scenes)
        return self.lines[span.start : span.stop]

    def reword(self, texts: Mapping[int, str]) -> None:
        """Let lines at these positions read so."""
        self.lines = tuple(TextLine(texts.get(at, text), end) for at, (text, end) in enumerate(self.lines))

    def paragraphs(self) -> Iterator[list[int]]:
        """The positions of the lines of each paragraph."""
        for is_blank, run in groupby(range(len(self.lines)), key=lambda at: self.lines[at].is_blank):
            if not is_blank:
                yield list(run)

    def ending(self) -> list[bool]:
        """Of each line, whether it is a blank one that ends a unit."""
        of, found = (*self.units.of, self.units.count), [False] * len(self.lines)
        for at in reversed(range(len(self.lines))):
            found[at] = self.lines[at].is_blank and (of[at + 1] != of[at] or found[at + 1])
        return found

    def above(self, scenes: range) -> str | None:
        """The words of the line above some scenes; None where there is none."""
        start = self.span(scenes).start
        return self.lines[start - 1].words if scenes and start else None


class _Merging:
    def __init__(self, to_ours: Comparison, to_theirs: Comparison) -> None:
        self.comparisons = to_ours, to_theirs
        self.base = _Text(to_ours.old)
        self.versions = _Text(to_ours.new, self.base.usual), _Text(to_theirs.new, self.base.usual)
        self.usual = three_way(self.base.usual, self.versions[OURS].usual, self.versions[THEIRS].usual)
        for text in (self.base, *self.versions):
            text.end_as(self.usual)
        for version in (OURS, THEIRS):
            self._reword_what_moved(version)
        self.ending = self.base.ending()
        self.same = [self._same_lines(version) for version in (OURS, THEIRS)]
        self.cut_by_the_other = [self._cut_by_the_other(version) for version in (OURS, THEIRS)]

    def _reword_what_moved(self, version: int) -> None:
        """Let paragraphs that a version moved as they were, and the other reworded in their place, read as reworded
        there and in the base, as if that had been done before."""
        moved = self._standing(version, {LineFateKind.MOVED})
        there = self._standing(1 - version, {LineFateKind.KEPT, LineFateKind.REWORDED})
        both = moved.keys() & there.keys()
        lines = [at for paragraph in self.base.paragraphs() if both.issuperset(paragraph) for at in paragraph]
        texts = {at: self.versions[1 - version].lines[there[at]].text for at in lines}
        if texts:
            self.base.reword(texts)
            self.versions[version].reword({moved[at]: text for at, text in texts.items()})

    def _standing(self, version: int, fates: Collection[LineFateKind]) -> dict[int, int]:
        """Where lines of the base of such fates stand in a version, each in one line of the same kind, and in their
        order but for those moved."""
        comparison, kinds = self.comparisons[version], self.versions[version].kinds
        return {
            line.old - 1: line.new[0] - 1
            for line in comparison.lines
            if line.fate in fates
            and (line.fate is LineFateKind.MOVED or line.old not in comparison.moved)
            and len(line.new) == 1
            and kinds[line.new[0] - 1] is self.base.kinds[line.old - 1] is not Kind.SCENE_HEADING
        }

    def _same_lines(self, version: int) -> list[int]:
        """Where each line of the base stands in a version as it was; NOWHERE if nowhere."""
        before, after = self.base.lines, self.versions[version].lines
        same = [NOWHERE] * len(before)
        for old, on, _ in self.comparisons[version].lines:
            for new in on:
                if before[old - 1].words == after[new - 1].words:
                    same[old - 1] = new - 1
        return same

    def _cut_by_the_other(self, version: int) -> list[bool]:
        """Of each line of a version, whether it stood in the base and the other version cut it."""
        found = [False] * len(self.versions[version].lines)
        for line in self.comparisons[1 - version].lines:
            place = self.same[version][line.old - 1]
            if line.fate is LineFateKind.GONE and place != NOWHERE:
                found[place] = True
        return found

    def merged(self) -> Merged:
        """All scenes put together."""
        written = MergedText(self.usual)
        ours, theirs = self.versions
        texts = _unit_texts(ours), _unit_texts(theirs)
        for there in order_scenes(self._links(), (self.base.units, ours.units, theirs.units), texts):
            pieces, places = self._put_together(there)
            if any(pieces):
                written.begin_scene({self.versions[version].above(scenes) for version, scenes in places})
            for piece in pieces:
                written.write(piece)
        is_ended = self.base.is_ended
        return written.merged(is_ended=is_ended == all(version.is_ended == is_ended for version in self.versions))

    def _links(self) -> tuple[UnitLinks, UnitLinks]:
        pairs = zip(self.comparisons, self.versions, strict=True)
        to_ours, to_theirs = (link_units(comparison, self.base.units, text.units) for comparison, text in pairs)
        return to_ours, to_theirs

    def _put_together(self, there: InOrder) -> tuple[list[Lines | Clash], list[tuple[int, range]]]:
        """What stands there, and in which versions it does: as which scenes."""
        if isinstance(there, Added):
            scenes = range(there.scene, there.scene + 1)
            return [self.versions[there.version].of(scenes)], [(there.version, scenes)]
        whole = there if isinstance(there, Whole) else there.whole
        pieces = self._whole(whole) if isinstance(there, Whole) else self._moved(there)
        return pieces, list(enumerate(whole.on))

    def _whole(self, whole: Whole, *, is_moved: bool = False) -> list[Lines | Clash]:
        """Scenes with both versions' changes in them. What a version cut is gone, unless the other changed or moved
        it."""
        base = self.base.of(whole.base)
        ours, theirs = (self.versions[version].of(whole.on[version]) for version in (OURS, THEIRS))
        if whole.on[OURS] and whole.on[THEIRS]:
            same = self._same(whole, OURS), self._same(whole, THEIRS)
            return merge_lines(Versions(base, ours, theirs, *same), self._kinds(whole))
        if is_moved or not reads_the_same(base, ours or theirs):
            return [Clash(base, ours, theirs)] if ours or theirs else []
        return []

    def _moved(self, moved: Moved) -> list[Lines | Clash]:
        pieces = self._whole(moved.whole, is_moved=True)
        if moved.only is None:
            return pieces
        lines: Lines = ()
        for piece in pieces:
            if isinstance(piece, Clash):
                lines = self.versions[moved.only].of(moved.whole.on[moved.only])
                break
            lines += piece
        return [Clash((), lines, (), is_moved=True) if moved.only == OURS else Clash((), (), lines, is_moved=True)]

    def _same(self, whole: Whole, version: int) -> list[tuple[int, int]]:
        """Places of lines that are the same in the base and in a version, counted from where the whole begins; those
        that did not move, if there are any."""
        before, after = self.base.span(whole.base), self.versions[version].span(whole.on[version])
        places = enumerate(self.same[version][before.start : before.stop])
        same = [(at, place - after.start) for at, place in places if after.start <= place < after.stop]
        moved = self.comparisons[version].moved
        return [(at, place) for at, place in same if before.start + at + 1 not in moved] or same

    def _kinds(self, whole: Whole) -> PassageKinds:
        """What the lines of scenes are, and which of them the other version cut."""
        base = self.base.span(whole.base)
        ours, theirs = (text.span(on) for text, on in zip(self.versions, whole.on, strict=True))
        return PassageKinds(
            self.base.kinds[base.start : base.stop],
            self.versions[OURS].kinds[ours.start : ours.stop],
            self.versions[THEIRS].kinds[theirs.start : theirs.stop],
            self.ending[base.start : base.stop],
            self.cut_by_the_other[OURS][ours.start : ours.stop],
            self.cut_by_the_other[THEIRS][theirs.start : theirs.stop],
        )


def _unit_texts(text: _Text) -> list[str]:
    """The words of each unit, line by line, without the blank lines after it."""
    lines = (text.of(range(unit, unit + 1)) for unit in range(text.units.count))
    return ["\n".join(line.words for line in unit).rstrip() for unit in lines]
