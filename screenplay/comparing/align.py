"""Places the lines of one draft on those of another: sure ones first, then what lies between them, then what moved.

1. Lines that each draft has once, and their neighbours as far as they agree, are sure.
2. From them follow which scene is which and which names changed throughout.
3. What is left between sure lines is placed in order, by likeness (`gaps`); stretches too long for that by the longest
   common subsequence and by rare words first (`long_gaps`).
4. What is left anywhere is placed where its text, too long to be chance, is found again.
5. Words that a line has on a further line, for it was split, joined or half given away, are found (`shared_words`).
6. A line whose words are nowhere is placed on the one that stands in its place (`replaced_lines`).
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import chain
from typing import TYPE_CHECKING

from screenplay.comparing.cue_places import put_cues_with_their_speeches
from screenplay.comparing.draft_lines import FREE, DraftLines, is_said_alike
from screenplay.comparing.gaps import PRIOR, PRIOR_ONE_END, Gaps
from screenplay.comparing.likeness import Likeness, RareWords
from screenplay.comparing.long_gaps import thin_out
from screenplay.comparing.renames import Rename, renamed_characters, renamed_places, with_names_alike
from screenplay.comparing.replaced_lines import replaced_lines
from screenplay.comparing.scene_pairs import ScenePairs, headings_that_stand
from screenplay.comparing.shared_words import shared_words
from screenplay.fountain import heading_parts, without_number

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from screenplay.model import Screenplay

LARGEST_SAMPLE = 20_000  # lines
LONGEST_PRODUCT = 3000  # old lines times new lines that are weighed pair by pair
LONGEST_LEFT = 400  # the same where their rare words have been looked up, and found no further pair
SURPRISE_TO_STAND_ALONE = 16.0  # nats that make a line, met once in each draft, the same wherever it is
NEAR_IN_LINES = 12  # lines that may have come between two lines that count as near each other
SURPRISE_TO_MOVE = 24.0  # nats: some five words that are not common
LIKENESS_TO_MOVE = 12.0


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
        self.old, self.new = DraftLines(old_script), DraftLines(new_script)
        distinct = dict.fromkeys(chain(self.old.texts, self.new.texts))
        self.numbers = {text: number for number, text in enumerate(distinct)}
        self.old_keys = list(map(self.numbers.__getitem__, self.old.texts))
        self.new_keys = list(map(self.numbers.__getitem__, self.new.texts))
        self.renames: list[Rename] = []
        self.tried: dict[int, tuple[int, int, int]] = {}  # gaps by their first old line

    def nothing_in_common(self) -> Alignment:
        return Alignment(self.old, self.new, _alone(self.old.partner), _alone(self.new.partner), ())

    def alignment(self) -> Alignment:
        if self.old_keys == self.new_keys:
            alone = _alone(range(len(self.old)))
            return Alignment(self.old, self.new, alone, list(alone), ())
        self._place_lines_met_once()
        self._grow()
        self._take_back_lone_lines()
        self._find_renames()
        self._pair_headings()
        likeness = self._learn_likeness()
        self.gaps = Gaps(self.old, self.new, (self.old_keys, self.new_keys), likeness)
        self._fill_gaps()
        self._place_moved(likeness)
        self._fill_gaps()
        put_cues_with_their_speeches(self.gaps)
        self._part_unlike_scenes()
        return self._told()

    def _told(self) -> Alignment:
        further = shared_words(self.gaps)
        for i, j in replaced_lines(self.old, self.new, further):
            self._pair(i, j)
        targets = _alone(self.old.partner)
        sources = _alone(self.new.partner)
        for i, j in further:
            targets[i] = tuple(sorted({*targets[i], j}))
            sources[j] = tuple(sorted({*sources[j], i}))
        return Alignment(self.old, self.new, targets, sources, tuple(self.renames))

    def _pair(self, i: int, j: int) -> None:
        self.old.partner[i] = j
        self.new.partner[j] = i

    def _free(self, i: int) -> None:
        self.new.partner[self.old.partner[i]] = FREE
        self.old.partner[i] = FREE

    def _part_unlike_scenes(self) -> None:
        """Two headings that look alike, of different places and over nothing in common, head two different scenes."""
        old, new = self.old, self.new
        pairs = [(i, j) for i, j in enumerate(old.partner) if j != FREE]
        shared = {(old.scenes[i], new.scenes[j]) for i, j in pairs if not old.is_heading[i]}
        with_body = [
            {scene for scene, is_heading in zip(draft.scenes, draft.is_heading, strict=True) if not is_heading}
            for draft in (old, new)
        ]
        for i, j in pairs:
            scenes = old.scenes[i], new.scenes[j]
            if not (old.is_heading[i] and new.is_heading[j]) or old.texts[i] == new.texts[j] or scenes in shared:
                continue
            if scenes[0] in with_body[0] and scenes[1] in with_body[1] and _place(old.texts[i]) != _place(new.texts[j]):
                self._free(i)

    # -- sure lines

    def _place_lines_met_once(self) -> None:
        """Cues and headings apart, which tell little of where they are."""
        once_old, once_new = _met_once(self.old_keys, self.old), _met_once(self.new_keys, self.new)
        for key, i in once_old.items():
            j = once_new.get(key, FREE)
            if j != FREE:
                self._pair(i, j)

    def _grow(self) -> None:
        """Place equal neighbours of placed lines: upwards any, downwards all but cues, which belong to what follows.

        It stops at a scene heading, beyond which another scene may stand.
        """
        old, new = self.old.partner, self.new.partner
        old_keys, new_keys = self.old_keys, self.new_keys
        is_heading, is_cue = self.old.is_heading, self.old.is_cue
        for i in range(len(old) - 2, -1, -1):
            if old[i] == FREE and old[i + 1] > 0 and not is_heading[i + 1] and not is_heading[i]:
                j = old[i + 1] - 1
                if new[j] == FREE and old_keys[i] == new_keys[j] and self._are_said_alike(i, j):
                    old[i], new[j] = j, i
        for i in range(1, len(old)):
            if old[i] == FREE and old[i - 1] != FREE and not is_cue[i] and not is_heading[i]:
                j = old[i - 1] + 1
                if j < len(new) and new[j] == FREE and old_keys[i] == new_keys[j] and self._are_said_alike(i, j):
                    old[i], new[j] = j, i

    def _are_said_alike(self, i: int, j: int) -> bool:
        return is_said_alike(self.old, self.new, i, j)

    def _take_back_lone_lines(self) -> None:
        """A line away from its neighbours may be a copy of one that was reworded where it stands: that is seen first.

        The longer of them are placed again once the lines in their order are; a short one proves nothing.
        """
        old = self.old
        placed = [i for i, j in enumerate(old.partner) if j != FREE]
        partners = [-1, *(old.partner[i] for i in placed), len(self.new)]
        bounds = [-1, *placed, len(old)]
        self.lone: list[tuple[int, int]] = []
        for at in range(1, len(partners) - 1):
            before, j, after = partners[at - 1 : at + 2]
            left, i, right = bounds[at - 1 : at + 2]
            if before + 1 != j and j + 1 != after:
                follows = 0 < j - before <= i - left + NEAR_IN_LINES
                leads = 0 < after - j <= right - i + NEAR_IN_LINES
                if not follows and not leads:
                    self.lone.append((i, j))
        for i, _ in self.lone:
            self._free(i)

    def _place_lone_lines(self, likeness: Likeness) -> None:
        for i, j in self.lone:
            is_free = self.old.partner[i] == FREE and self.new.partner[j] == FREE
            if is_free and likeness.surprise(self.old.texts[i]) >= SURPRISE_TO_STAND_ALONE:
                self._pair(i, j)

    # -- what follows from them

    def _find_renames(self) -> None:
        self.scenes = ScenePairs(self.old, self.new)
        self.renames = renamed_characters(self.old, self.new)
        self.renames += renamed_places(self.old_script, self.new_script, self.scenes.mutual())
        alike = with_names_alike(self.renames)
        if alike is not None:
            self._write_names_alike(alike)
            self._grow()

    def _write_names_alike(self, alike: Callable[[str], str]) -> None:
        """In lines not placed so far; those that this makes the same, and that are met once, are placed."""
        rewritten: list[list[int]] = []
        for draft, keys in ((self.old, self.old_keys), (self.new, self.new_keys)):
            changed = []
            for at, partner in enumerate(draft.partner):
                text = draft.texts[at]
                if partner == FREE and (written := alike(text)) != text:
                    draft.texts[at] = written
                    keys[at] = self.numbers.setdefault(written, len(self.numbers))
                    changed.append(at)
            names = {name: alike(name) for name in set(draft.speakers)}
            draft.speakers = [names[name] for name in draft.speakers]
            rewritten.append([at for at in changed if not draft.is_cue[at] and not draft.is_heading[at]])
        once_new = _once(rewritten[1], self.new_keys)
        for key, i in _once(rewritten[0], self.old_keys).items():
            if key in once_new:
                self._pair(i, once_new[key])

    def _pair_headings(self) -> None:
        old_headings, new_headings = _headings(self.old), _headings(self.new)
        for scene, partner in headings_that_stand(self.old, self.new, self.scenes):
            i, j = old_headings[scene], new_headings[partner]
            if self.old.partner[i] == FREE and self.new.partner[j] == FREE:
                self._pair(i, j)

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
                self._pair(i, j)
            return
        for part_rows, part_columns in thin_out(self.gaps, rows, columns):
            if len(part_rows) * len(part_columns) <= LONGEST_LEFT:
                for i, j in self.gaps.place(part_rows, part_columns, prior):
                    self._pair(i, j)

    def _with_company(self, rows: Sequence[int], columns: Sequence[int]) -> tuple[Sequence[int], Sequence[int]]:
        """Without the lines of scenes that have to do with no scene in the other draft."""
        old_scenes, new_scenes = self.old.scenes, self.new.scenes
        left, right = self.scenes.in_company({old_scenes[i] for i in rows}, {new_scenes[j] for j in columns})
        return [i for i in rows if old_scenes[i] in left], [j for j in columns if new_scenes[j] in right]

    # -- what moved

    def _place_moved(self, likeness: Likeness) -> None:
        self._place_lone_lines(likeness)
        self._place_moved_as_they_were(likeness)
        self._place_moved_and_reworded(likeness)
        self._grow()

    def _place_moved_as_they_were(self, likeness: Likeness) -> None:
        free_old = [i for i, j in enumerate(self.old.partner) if j == FREE and not self.old.is_cue[i]]
        free_new = [j for j, i in enumerate(self.new.partner) if i == FREE and not self.new.is_cue[j]]
        once_new = _once(free_new, self.new_keys)
        for key, i in _once(free_old, self.old_keys).items():
            j = once_new.get(key)
            if j is not None and likeness.surprise(self.old.texts[i]) >= SURPRISE_TO_MOVE:
                self._pair(i, j)

    def _place_moved_and_reworded(self, likeness: Likeness) -> None:
        free_new = [j for j, i in enumerate(self.new.partner) if i == FREE and not self.new.is_cue[j]]
        lines = RareWords(likeness, self.new.texts, free_new)
        found = []
        for i, partner in enumerate(self.old.partner):
            if partner == FREE and not self.old.is_cue[i]:
                scored = [(self._score_moved(i, j), j) for j in lines.shared_by(self.old.texts[i])]
                found += [(-score, i, j) for score, j in scored if score >= LIKENESS_TO_MOVE]
        for _, i, j in sorted(found):
            if self.old.partner[i] == FREE and self.new.partner[j] == FREE:
                self._pair(i, j)

    def _score_moved(self, i: int, j: int) -> float:
        in_one_scene = self.scenes.lines[self.old.scenes[i], self.new.scenes[j]] > 0
        return self.gaps.pair_score(i, j, is_here=in_one_scene)


def _alone(partners: Sequence[int]) -> list[tuple[int, ...]]:
    return [(partner,) if partner != FREE else () for partner in partners]


def _met_once(keys: Sequence[int], draft: DraftLines) -> dict[int, int]:
    """Positions of lines, neither cue nor heading, that the draft has once, by their keys."""
    return _once([at for at in range(len(keys)) if not draft.is_cue[at] and not draft.is_heading[at]], keys)


def _once(positions: Sequence[int], keys: Sequence[int]) -> dict[int, int]:
    found: dict[int, int] = {}
    again: set[int] = set()
    for at in positions:
        key = keys[at]
        if key in found:
            again.add(key)
        else:
            found[key] = at
    for key in again:
        del found[key]
    return found


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
    return heading_parts(without_number(heading)[0]).place.casefold()
