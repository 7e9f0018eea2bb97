"""Two drafts: what became of each line and each scene, and which names changed throughout."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property, partial
from typing import TYPE_CHECKING, NamedTuple

from screenplay.comparing.align import Alignment, align
from screenplay.comparing.line_origins import LineOrigins, known_pairs, with_known_pairs
from screenplay.comparing.ordering import in_order
from screenplay.comparing.renames import Rename
from screenplay.comparing.scene_fates import SceneFate, SceneFateKind, read_backwards, scene_fates
from screenplay.comparing.scene_links import SceneLinks
from screenplay.comparing.word_diff import WordChange, word_changes
from screenplay.fountain import parse, same_name, without_number
from screenplay.model import Kind
from screenplay.script import first_cues
from screenplay.what_prints import PRINTS_NOTHING, as_printed

if TYPE_CHECKING:
    from collections.abc import Mapping

    from screenplay.model import Screenplay
    from screenplay.what_prints import AsPrinted

__all__ = [
    "Comparison",
    "LineFate",
    "LineFateKind",
    "Rename",
    "SceneFate",
    "SceneFateKind",
    "WordChange",
    "compare",
    "word_changes",
]


class LineFateKind(StrEnum):
    """What became of a line, from one draft to the next.

    A line is kept or moved when its words and marks are as they were, white space apart; moved means out of the order
    that most lines keep, or in a scene that is another. A heading is numbered when its scene number alone came, went or
    is another. Any other change of its text makes it reworded, be it of a name that changed throughout.
    """

    KEPT = "kept"
    MOVED = "moved"
    REWORDED = "reworded"
    NUMBERED = "numbered"
    GONE = "gone"
    JOINED = "joined"
    SPLIT = "split"


_WITH_ITS_WORDS = frozenset({LineFateKind.KEPT, LineFateKind.MOVED, LineFateKind.NUMBERED})


class LineFate(NamedTuple):
    """A line of the old draft and where it is in the new one: several lines if it was split, none if it is gone."""

    old: int
    new: tuple[int, ...]
    fate: LineFateKind


# A `LineFate` of its fields in a tuple: what its `_make` does but for counting them, in half the time.
_new_fate = partial(tuple.__new__, LineFate)


@dataclass(frozen=True)
class Comparison:
    """What lies between two drafts.

    `lines` has a fate for every line of the old draft that is not blank, in order; `added` the lines of the new one,
    not blank, that no old line is on. `scenes` are in the new draft's order, cut ones after what they stood behind.
    `renamed` are the old lines that differ from the new in nothing but names of `renames`, headings in their numbers
    too; `moved` those out of the order that most lines keep, or in a scene that is another, whatever became of their
    words: of two lines that cross, one is among them. `known` are the old lines of which it was known where they are.
    All numbers count from 1.
    """

    old: Screenplay
    new: Screenplay
    lines: tuple[LineFate, ...]
    added: tuple[int, ...]
    scenes: tuple[SceneFate, ...]
    renames: tuple[Rename, ...]
    renamed: frozenset[int] = frozenset()
    moved: frozenset[int] = frozenset()
    known: frozenset[int] = frozenset()

    @cached_property
    def by_old(self) -> Mapping[int, LineFate]:
        """The fate of each old line that is not blank, by its number."""
        return {fate.old: fate for fate in self.lines}

    def keeps_words(self, fate: LineFate) -> bool:
        """Whether a line has the words that it had, but for names that changed throughout and its scene's number."""
        return fate.old in self.renamed or fate.fate in _WITH_ITS_WORDS

    def is_out_of_sight(self, fate: LineFate) -> bool:
        """Whether what became of a line is on no page: neither it nor what it is now prints, or it prints what it did,
        and a note within or a forcing mark is all that is another. A line that is kept is out of sight where it never
        prints."""
        before = self._printing[0].get(fate.old, PRINTS_NOTHING)
        after = [self._printing[1].get(line, PRINTS_NOTHING) for line in fate.new]
        if before is PRINTS_NOTHING and all(line is PRINTS_NOTHING for line in after):
            return True
        return fate.fate is LineFateKind.REWORDED and after == [before]

    def prints(self, added: int) -> bool:
        """Whether a line of the new draft prints."""
        return added in self._printing[1]

    @cached_property
    def _printing(self) -> tuple[Mapping[int, AsPrinted], Mapping[int, AsPrinted]]:
        return as_printed(self.old), as_printed(self.new)

    @cached_property
    def by_new(self) -> Mapping[int, tuple[int, ...]]:
        """The old lines, rising, that are on each new line that has any, by its number."""
        found: dict[int, tuple[int, ...]] = {}
        for fate in self.lines:
            for line in fate.new:
                found[line] = (*found.get(line, ()), fate.old)
        return found

    @cached_property
    def by_old_scene(self) -> Mapping[int, tuple[SceneFate, ...]]:
        """The fates of each old scene, by its ordinal: several where it was split."""
        found: dict[int, tuple[SceneFate, ...]] = {}
        for fate in self.scenes:
            if fate.old is not None:
                found[fate.old] = (*found.get(fate.old, ()), fate)
        return found

    @cached_property
    def shared_by_scenes(self) -> Mapping[tuple[int, int], int]:
        """How many lines an old scene and a new one have in common, by their ordinals."""
        old, new = self.old.scene_of, self.new.scene_of
        return Counter((old[fate.old - 1], new[line - 1]) for fate in self.lines for line in fate.new)

    @cached_property
    def same_headings(self) -> Mapping[int, int]:
        """The old scene, by ordinal, whose heading each new scene has, reworded or not. Of several scenes that are one
        now, that is the one which lives on; of several that were one, this is."""
        old, new = self.old, self.new
        is_heading = Kind.SCENE_HEADING
        headings = [fate for fate in self.lines if old.kinds[fate.old - 1] is is_heading]
        return {
            new.scene_of[line - 1]: old.scene_of[fate.old - 1]
            for fate in headings
            for line in fate.new
            if new.kinds[line - 1] is is_heading
        }

    @cached_property
    def origins(self) -> Mapping[int, int]:
        """The old scene that each new one goes on from, by ordinal: of several the one whose heading it has, else that
        of which it has most lines. A part of a scene that was split goes on from the whole of it."""
        return {new: old for old, new in reversed(self._ranked_links)}

    @cached_property
    def successors(self) -> Mapping[int, int]:
        """The one new scene that an old one lives on as, by ordinal, each new one of one old alone; none where it went
        into another."""
        found: dict[int, int] = {}
        taken: set[int] = set()
        for old, new in self._ranked_links:
            if old not in found and new not in taken:
                found[old] = new
                taken.add(new)
        return found

    @cached_property
    def _ranked_links(self) -> list[tuple[int, int]]:
        """Every old scene with a new one that it is part of: those with one heading first, then by their lines."""
        pairs = [(fate.old, fate.new) for fate in self.scenes if fate.old is not None and fate.new is not None]
        shared, headings = self.shared_by_scenes, self.same_headings
        return sorted(pairs, key=lambda pair: (headings.get(pair[1]) != pair[0], -shared[pair], pair))

    @cached_property
    def first_cues(self) -> Mapping[str, tuple[str, int]]:
        """Each character of the new draft, and the line of the cue under which they first speak, by what the
        spellings of their name share: a draft may have `McAvoy` where another has `MCAVOY`."""
        return {same_name(name): (name, line) for name, line in first_cues(self.new).items()}


def compare(old: Screenplay | str, new: Screenplay | str, origins: LineOrigins | None = None) -> Comparison:
    """Compare two drafts, parsed or not. Never fails, and takes time nearly in proportion to their lengths.

    Comparing back gives the inverse: the same pairs of lines and scenes, the other way round. `origins` tell from which
    old lines new ones are known to come: of these nothing is guessed.
    """
    old = parse(old) if isinstance(old, str) else old
    new = parse(new) if isinstance(new, str) else new
    # One way round is worked out, and read backwards for the other, so that both always agree.
    is_forwards = old.text <= new.text
    alignment = align(old, new) if is_forwards else align(new, old).backwards()
    known: frozenset[int] = frozenset()
    if origins is not None:
        pairs = known_pairs(alignment, origins)
        alignment = with_known_pairs(alignment, pairs)
        known = frozenset(alignment.old.numbers[i] for i, _ in pairs)
    changes = _changes(alignment) if is_forwards else _changes(alignment.backwards()).backwards()
    return _told(old, new, alignment, changes, known)


@dataclass(frozen=True)
class _ChangedPairs:
    """The pairs of an alignment, as positions: those out of order, of another text, of these the ones of another name
    only, and headings of another scene number only."""

    moved: set[tuple[int, int]]
    changed: set[tuple[int, int]]
    renamed: set[tuple[int, int]]
    numbered: set[tuple[int, int]]
    scenes: tuple[SceneFate, ...]

    def backwards(self) -> _ChangedPairs:
        """The same, told the other way round."""
        told = (self.moved, self.changed, self.renamed, self.numbered)
        moved, changed, renamed, numbered = ({(j, i) for i, j in pairs} for pairs in told)
        return _ChangedPairs(moved, changed, renamed, numbered, read_backwards(self.scenes))


def _changes(alignment: Alignment) -> _ChangedPairs:
    old, new = alignment.old, alignment.new
    theirs = new.written
    lines = enumerate(zip(old.written, alignment.targets, strict=True))
    changed = {(i, j) for i, (text, on) in lines for j in on if text != theirs[j]}
    headings = {(i, j) for i, j in changed if old.is_heading[i] and new.is_heading[j]}
    numbered = {(i, j) for i, j in headings if _are_one_but_for_number(old.written[i], theirs[j])}
    changed -= numbered
    headings -= numbered
    renamed = {(i, j) for i, j in changed if old.texts[i] == new.texts[j]}
    renamed |= {(i, j) for i, j in headings if _are_one_but_for_number(old.texts[i], new.texts[j])}
    links = SceneLinks(old, new, alignment.targets)
    moved = _moved(alignment, links)
    on_paper = new.as_printed
    lines_as_printed = enumerate(zip(old.as_printed, alignment.targets, strict=True))
    reworded = {(i, j) for i, (printed, on) in lines_as_printed for j in on if printed != on_paper[j]}
    reworded -= renamed | numbered
    moved_on_paper = {(i, j) for i, j in moved if old.printed[i] or new.printed[j]}
    in_scenes = [
        {(old.scenes[i], new.scenes[j]) for i, j in pairs}
        for pairs in (moved_on_paper | reworded - headings, reworded & headings)
    ]
    return _ChangedPairs(moved, changed, renamed, numbered, scene_fates(links, *in_scenes))


def _are_one_but_for_number(old: str, new: str) -> bool:
    """Whether two headings have the same words, whatever the numbers of their scenes."""
    return without_number(old)[0] == without_number(new)[0]


def _moved(alignment: Alignment, links: SceneLinks) -> set[tuple[int, int]]:
    """Pairs in scenes that are not the same one nor split from one, or that moved; and of the rest the fewest without
    which they are in the same order in both drafts, of as few those with the fewest letters.

    Before and behind its own heading a line is not in the same place, so a heading is never among these.
    """
    old, new = alignment.old, alignment.new
    old_scenes, new_scenes = old.scenes, new.scenes
    stayed = set(links.all) - links.moved
    moved: set[tuple[int, int]] = set()
    staying: list[tuple[int, int]] = []
    for i, on in enumerate(alignment.targets):
        for j in on:
            scenes = old_scenes[i], new_scenes[j]
            if scenes not in stayed and all(scenes):
                moved.add((i, j))
            else:
                staying.append((i, j))
    letters = [len(old.texts[i]) for i, _ in staying]
    line = 1 + sum(letters)
    heading = 1 + line * len(staying)
    weights = [
        line + length + (heading if old.is_heading[i] and new.is_heading[j] else 0)
        for (i, j), length in zip(staying, letters, strict=True)
    ]
    in_place = in_order([j for _, j in staying], weights, may_share=True)
    if len(in_place) < len(staying):
        moved.update(set(staying).difference([staying[at] for at in in_place]))
    return moved


def _told(
    old: Screenplay, new: Screenplay, alignment: Alignment, changes: _ChangedPairs, known: frozenset[int]
) -> Comparison:
    old_numbers, new_numbers = alignment.old.numbers, alignment.new.numbers
    on = [tuple([new_numbers[j] for j in positions]) for positions in alignment.targets]
    lines = map(_new_fate, zip(old_numbers, on, _fates(alignment, changes), strict=True))
    added = [number for number, positions in zip(new_numbers, alignment.sources, strict=True) if not positions]
    renamed = frozenset(old_numbers[i] for i, _ in changes.renamed)
    moved = frozenset(old_numbers[i] for i, _ in changes.moved)
    return Comparison(old, new, tuple(lines), tuple(added), changes.scenes, alignment.renames, renamed, moved, known)


def _fates(alignment: Alignment, changes: _ChangedPairs) -> list[LineFateKind]:
    """The fate of each line of the old draft: the last of those that hold."""
    kept, gone = LineFateKind.KEPT, LineFateKind.GONE
    fates = [kept if on else gone for on in alignment.targets]
    for i, _ in changes.moved:
        fates[i] = LineFateKind.MOVED
    for i, _ in changes.changed:
        fates[i] = LineFateKind.REWORDED
    for i, _ in changes.numbered:
        fates[i] = LineFateKind.NUMBERED
    for on in alignment.sources:
        if len(on) > 1:
            for i in on:
                fates[i] = LineFateKind.JOINED
    for i, on in enumerate(alignment.targets):
        if len(on) > 1:
            fates[i] = LineFateKind.SPLIT
    return fates
