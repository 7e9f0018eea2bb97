"""Places the lines of one draft on those of another: sure ones first, then what lies between them, then what moved.

1. Lines that each draft has once, and their neighbours as far as they agree, are sure (`sure_lines`).
2. From them follow which scene is which and which names changed throughout; and where a heading of its words stands for
   a line, or a line for a heading (`made_headings`).
3. What is left between sure lines is placed in order, by likeness (`gaps`); stretches too long for that by the longest
   common subsequence and by rare words first (`long_gaps`).
4. What is left anywhere is placed where its text, too long to be chance, is found again (`moved_lines`).
5. Words that a line has on a further line, for it was split, joined or half given away, are found (`shared_words`).
6. A line whose words are nowhere is placed on the one that stands in its place (`replaced_lines`).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.comparing.cue_places import put_cues_with_their_speeches
from screenplay.comparing.draft_lines import FREE
from screenplay.comparing.gaps import PRIOR, PRIOR_ONE_END, Gaps
from screenplay.comparing.likeness import Likeness
from screenplay.comparing.long_gaps import thin_out
from screenplay.comparing.made_headings import place_made_headings
from screenplay.comparing.moved_lines import place_moved_lines, place_short_moved_lines
from screenplay.comparing.renames import Rename, renamed_characters, renamed_places, with_names_alike
from screenplay.comparing.replaced_lines import replaced_lines
from screenplay.comparing.scene_pairs import ScenePairs, headings_that_stand
from screenplay.comparing.shared_words import shared_words
from screenplay.comparing.sure_lines import place_equal_neighbours, place_sure_lines
from screenplay.comparing.two_drafts import TwoDrafts
from screenplay.fountain import heading_fields, same_name, without_number

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from screenplay.comparing.draft_lines import DraftLines
    from screenplay.model import Screenplay

LARGEST_SAMPLE = 20_000  # lines
LONGEST_PRODUCT = 3000  # old lines times new lines that are weighed pair by pair
LONGEST_LEFT = 400  # the same where their rare words have been looked up, and found no further pair


@dataclass(frozen=True)
class Alignment:
    """Where each line of two drafts is on the other: positions, several for a split or joined line, none if nowhere."""

    old: DraftLines
    new: DraftLines
    targets: list[tuple[int, ...]]
    sources: list[tuple[int, ...]]
    renames: tuple[Rename, ...]

    def backwards(self) -> Alignment:
        """The same, of the two drafts the other way round."""
        renames = tuple(Rename(rename.new, rename.old, rename.kind) for rename in self.renames)
        return Alignment(self.new, self.old, self.sources, self.targets, renames)


def align(old: Screenplay, new: Screenplay) -> Alignment:
    """Place the lines of `old` on those of `new`. Takes time nearly in proportion to their lengths."""
    aligner = _Aligner(old, new)
    return aligner.alignment() if len(aligner.old) and len(aligner.new) else aligner.nothing_in_common()


class _Aligner:
    def __init__(self, old_script: Screenplay, new_script: Screenplay) -> None:
        self.old_script, self.new_script = old_script, new_script
        self.drafts = TwoDrafts(old_script, new_script)
        self.old, self.new = self.drafts.old, self.drafts.new
        self.renames: list[Rename] = []
        self.tried: dict[int, tuple[int, int, int]] = {}  # gaps by their first old line

    def nothing_in_common(self) -> Alignment:
        return Alignment(self.old, self.new, _alone(self.old.partner), _alone(self.new.partner), ())

    def alignment(self) -> Alignment:
        if self.old.keys == self.new.keys:
            alone = _alone(range(len(self.old)))
            return Alignment(self.old, self.new, alone, list(alone), ())
        stand_alone = place_sure_lines(self.drafts)
        self._find_renames()
        self._pair_headings()
        self.gaps = Gaps(self.drafts, self._learn_likeness())
        place_made_headings(self.drafts, self.gaps.likeness)
        self._fill_gaps()
        place_moved_lines(self.drafts, self.gaps, self.scenes, stand_alone)
        place_equal_neighbours(self.drafts)
        self._fill_gaps()
        place_short_moved_lines(self.drafts, self.scenes)
        put_cues_with_their_speeches(self.gaps)
        self._part_unlike_scenes()
        return self._told()

    def _told(self) -> Alignment:
        further = shared_words(self.gaps)
        for i, j in replaced_lines(self.old, self.new, further):
            self.drafts.pair(i, j)
        targets = _alone(self.old.partner)
        sources = _alone(self.new.partner)
        for i, j in further:
            targets[i] = tuple(sorted({*targets[i], j}))
            sources[j] = tuple(sorted({*sources[j], i}))
        renames = tuple(rename for rename in self.renames if same_name(rename.old) != same_name(rename.new))
        return Alignment(self.old, self.new, targets, sources, renames)

    def _part_unlike_scenes(self) -> None:
        """Two headings that look alike, of different places and over nothing in common, head two different scenes."""
        old, new = self.old, self.new
        headings = [
            (i, j)
            for i, j in ((i, old.partner[i]) for i in old.headings)
            if j != FREE and new.is_heading[j] and old.texts[i] != new.texts[j]
        ]
        if not headings:
            return
        lines = zip(old.scenes, old.partner, old.is_heading, strict=True)
        shared = {(scene, new.scenes[j]) for scene, j, is_heading in lines if j != FREE and not is_heading}
        with_body = [
            {scene for scene, is_heading in zip(draft.scenes, draft.is_heading, strict=True) if not is_heading}
            for draft in (old, new)
        ]
        for i, j in headings:
            scenes = old.scenes[i], new.scenes[j]
            if scenes in shared:
                continue
            if scenes[0] in with_body[0] and scenes[1] in with_body[1] and _place(old.texts[i]) != _place(new.texts[j]):
                self.drafts.free(i)

    # -- what follows from the sure lines

    def _find_renames(self) -> None:
        self.scenes = ScenePairs(self.old, self.new)
        self.renames = renamed_characters(self.old, self.new)
        self.renames += renamed_places(self.old_script, self.new_script, self.scenes.mutual())
        alike = with_names_alike(self.renames)
        if alike is not None:
            self._write_names_alike(alike)
            place_equal_neighbours(self.drafts)

    def _write_names_alike(self, alike: Callable[[str], str]) -> None:
        """In lines not placed so far; those that this makes the same, and that are met once, are placed."""
        rewritten: list[list[int]] = []
        for draft in (self.old, self.new):
            changed = []
            for at, partner in enumerate(draft.partner):
                text = draft.texts[at]
                if partner == FREE and (written := alike(text)) != text:
                    self.drafts.write(draft, at, written)
                    changed.append(at)
            names = {name: alike(name) for name in set(draft.speakers)}
            draft.speakers = [names[name] for name in draft.speakers]
            rewritten.append([at for at in changed if not draft.is_cue[at] and not draft.is_heading[at]])
        self.drafts.pair_those_met_once(*rewritten)

    def _pair_headings(self) -> None:
        old_headings, new_headings = _headings(self.old), _headings(self.new)
        for scene, partner in headings_that_stand(self.old, self.new, self.scenes):
            self.drafts.pair_if_free(old_headings[scene], new_headings[partner])

    def _learn_likeness(self) -> Likeness:
        """From unplaced lines of both drafts; of very many, some thousands tell well enough how often a word comes."""
        texts = [
            text
            for draft in (self.old, self.new)
            for text, partner, cue in zip(draft.texts, draft.partner, draft.is_cue, strict=True)
            if partner == FREE and not cue
        ]
        one_in = 1 + len(texts) // LARGEST_SAMPLE
        return Likeness(texts[::one_in], one_in)

    # -- what lies between

    def _fill_gaps(self) -> None:
        self.scenes = ScenePairs(self.old, self.new)
        self.gaps.compatible = self.scenes.compatible
        for both_ends in (True, False):
            for rows, columns in list(self._gaps(both_ends=both_ends)):
                self._fill(rows, [j for j in columns if self.new.partner[j] == FREE], both_ends=both_ends)

    def _gaps(self, *, both_ends: bool) -> Iterator[tuple[range, list[int]]]:
        """Stretches of unplaced old lines with the unplaced new lines beside the partners of their neighbours.

        With `both_ends`, those where what follows the one neighbour's partner leads up to the other's; else the rest.
        """
        old, new = self.old.partner, self.new.partner
        for start, stop in _stretches(old):
            left = old[start - 1] if start else -1
            right = old[stop] if stop < len(old) else len(new)
            after_left = _run_after(new, left)
            if after_left.stop == right:
                if both_ends and after_left:
                    yield range(start, stop), list(after_left)
            elif not both_ends:
                columns = [*after_left, *_run_before(new, right)]
                if columns:
                    yield range(start, stop), columns

    def _fill(self, rows: Sequence[int], columns: Sequence[int], *, both_ends: bool) -> None:
        if not columns or self.tried.get(rows[0]) == (rows[-1], columns[0], columns[-1]):
            return
        self.tried[rows[0]] = (rows[-1], columns[0], columns[-1])
        if len(rows) * len(columns) > 1:
            rows, columns = self._with_company(rows, columns)
        if not rows or not columns:
            return
        prior = PRIOR if both_ends else PRIOR_ONE_END
        if len(rows) * len(columns) <= LONGEST_PRODUCT:
            for i, j in self.gaps.place(rows, columns, prior):
                self.drafts.pair(i, j)
            return
        for part_rows, part_columns in thin_out(self.gaps, rows, columns):
            if len(part_rows) * len(part_columns) <= LONGEST_LEFT:
                for i, j in self.gaps.place(part_rows, part_columns, prior):
                    self.drafts.pair(i, j)

    def _with_company(self, rows: Sequence[int], columns: Sequence[int]) -> tuple[Sequence[int], Sequence[int]]:
        """Without the lines of scenes that have to do with no scene in the other draft."""
        old_scenes, new_scenes = self.old.scenes, self.new.scenes
        left, right = self.scenes.in_company({old_scenes[i] for i in rows}, {new_scenes[j] for j in columns})
        return [i for i in rows if old_scenes[i] in left], [j for j in columns if new_scenes[j] in right]


def _alone(partners: Sequence[int]) -> list[tuple[int, ...]]:
    return [(partner,) if partner != FREE else () for partner in partners]


def _headings(draft: DraftLines) -> dict[int, int]:
    return {draft.scenes[at]: at for at in draft.headings}


def _stretches(partners: Sequence[int]) -> Iterator[tuple[int, int]]:
    """Start and stop of each run of lines without a partner."""
    start = None
    for at, partner in enumerate(partners):
        if partner == FREE:
            if start is None:
                start = at
        elif start is not None:
            yield start, at
            start = None
    if start is not None:
        yield start, len(partners)


def _run_after(partners: Sequence[int], at: int) -> range:
    stop = at + 1
    while stop < len(partners) and partners[stop] == FREE:
        stop += 1
    return range(at + 1, stop)


def _run_before(partners: Sequence[int], at: int) -> range:
    start = at
    while start > 0 and partners[start - 1] == FREE:
        start -= 1
    return range(start, at)


def _place(heading: str) -> str:
    return heading_fields(without_number(heading)[0]).place.casefold()
