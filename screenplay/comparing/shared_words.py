"""Words of a line that stand on a further line of the other draft: lines joined, lines split, a half given away.

A line is on one line of the other draft at most when this begins, and what the two have in common, word by word, is
covered. What is left is looked for on further lines: a line without a partner beside the lines that its neighbours are
on, first where it goes on word for word; and any run of words too long to be chance, wherever it is.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from screenplay.comparing.draft_lines import FREE

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from screenplay.comparing.draft_lines import DraftLines
    from screenplay.comparing.gaps import Gaps
    from screenplay.comparing.likeness import Likeness, Run

LINES_BETWEEN_PARTS = 12  # lines that may have come between two parts of one line
FEWEST, LEAST = 2, 1 / 3  # words, and of all words of a line, that have to be among what another line left
MOST = 0.5  # of the words of the shorter of two lines, for it to be in the other not by chance alone
BESIDE, FURTHER = 2.0, 4.0  # nats for a line next to a part of another, or near it, to be a further part
IN_THE_SCENE, ANYWHERE = 12.0, 20.0  # nats for a run of words to be the same words: some four that are not common
ROW = 3  # words in a row by which runs are found again
MOST_WITH_A_ROW = 16
LONG_ROW = 6  # words that are no turn of phrase, unless they are most of a line
COVERED = ("\ufffe", "\uffff")  # in the place of a word that is covered, in the one draft and in the other


def shared_words(gaps: Gaps) -> list[tuple[int, int]]:
    """Further pairs of positions, old and new, of lines that have words in common beside their partners.

    A line that shares no word with its partner may be among them: it gives that partner up.
    """
    return _Sharing(gaps).found()


class _Words:
    """The lines of one draft as words in order, those that are covered blotted out."""

    def __init__(self, draft: DraftLines, keys: Sequence[int], likeness: Likeness, covered: str) -> None:
        self.draft, self.keys, self.likeness, self.covered = draft, keys, likeness, covered
        self.further: dict[int, list[int]] = {}
        self._left: dict[int, str] = {}

    def all(self, at: int) -> str:
        return self.likeness.words_in_order(self.draft.texts[at])

    def left(self, at: int) -> str:
        found = self._left.get(at)
        return self.all(at) if found is None else found

    def segments(self, at: int) -> Iterator[tuple[int, str]]:
        """The words of a line that are left, run by run, each with where it starts."""
        start = 0
        for segment in self.left(at).split(self.covered):
            if segment:
                yield start, segment
            start += len(segment) + 1

    def cover(self, at: int, start: int, length: int) -> None:
        left = self.left(at)
        self._left[at] = left[:start] + self.covered * length + left[start + length :]

    def on(self, at: int) -> list[int]:
        """The lines of the other draft that a line is on."""
        partner = self.draft.partner[at]
        return [*([] if partner == FREE else [partner]), *self.further.get(at, ())]


class _Sharing:
    def __init__(self, gaps: Gaps) -> None:
        self.likeness = gaps.likeness
        self.old = _Words(gaps.old, gaps.old_keys, gaps.likeness, COVERED[0])
        self.new = _Words(gaps.new, gaps.new_keys, gaps.likeness, COVERED[1])
        self.scenes: set[tuple[int, int]] = set()

    def found(self) -> list[tuple[int, int]]:
        self._cover_what_partners_share()
        ways = ((self.old, self.new), (self.new, self.old))
        loose = [(mine, theirs, list(self._loose(mine, theirs))) for mine, theirs in ways]
        for found in (self._goes_on, self._is_what_is_left, self._is_among_what_is_left):
            for mine, theirs, lines in loose:
                for at in lines:
                    self._try_beside(mine, theirs, at, -1, found)
                for at in reversed(lines):
                    self._try_beside(mine, theirs, at, 1, found)
        self._share_runs()
        return sorted((i, j) for i, lines in self.old.further.items() for j in lines)

    def _cover_what_partners_share(self) -> None:
        old, new = self.old, self.new
        for i, j in enumerate(old.draft.partner):
            if j != FREE:
                self.scenes.add((old.draft.scenes[i], new.draft.scenes[j]))
                if old.keys[i] != new.keys[j]:
                    self._cover(old, new, i, j, self.likeness.runs_in_common(old.all(i), new.all(j)))

    def _cover(self, mine: _Words, theirs: _Words, at: int, to: int, runs: Sequence[Run]) -> None:
        for start, other, length in runs:
            mine.cover(at, start, length)
            theirs.cover(to, other, length)

    def _share(self, mine: _Words, theirs: _Words, at: int, to: int, runs: Sequence[Run]) -> None:
        self._give_up_chance_partner(mine, theirs, at)
        self._give_up_chance_partner(theirs, mine, to)
        self._cover(mine, theirs, at, to, runs)
        if to not in mine.on(at):
            mine.further.setdefault(at, []).append(to)
            theirs.further.setdefault(to, []).append(at)

    def _give_up_chance_partner(self, mine: _Words, theirs: _Words, at: int) -> None:
        """A line that has its words elsewhere was put on its partner by chance, unless one is mostly in the other."""
        partner = mine.draft.partner[at]
        if partner == FREE or mine.keys[at] == theirs.keys[partner]:
            return
        part, whole = sorted((mine.all(at), theirs.all(partner)), key=len)
        shared = sum(length for _, _, length in self.likeness.runs_in_common(part, whole))
        if shared < MOST * len(part):
            theirs.draft.partner[partner] = mine.draft.partner[at] = FREE

    # -- beside what the neighbours are on

    def _loose(self, mine: _Words, theirs: _Words) -> Iterator[int]:
        """Lines without a partner, or with one that they share no word with."""
        draft, words_of = mine.draft, self.likeness.words_of
        for at, partner in enumerate(draft.partner):
            if draft.is_heading[at] or draft.is_cue[at] or not mine.all(at):
                continue
            if partner == FREE or (
                mine.keys[at] != theirs.keys[partner]
                and not words_of(draft.texts[at]) & words_of(theirs.draft.texts[partner])
            ):
                yield at

    def _try_beside(
        self,
        mine: _Words,
        theirs: _Words,
        at: int,
        step: int,
        found: Callable[[_Words, _Words, int, int, bool], list[Run]],
    ) -> None:
        beside = None if at in mine.further else self._nearest_placed(mine, at, step)
        if beside is None:
            return
        for to in mine.on(beside)[::-step]:
            is_whole = mine.keys[beside] == theirs.keys[to]
            if is_whole or theirs.draft.is_cue[to] or theirs.draft.is_heading[to]:
                continue
            runs = found(mine, theirs, at, to, beside == at + step)
            if runs:
                self._share(mine, theirs, at, to, runs)
                return

    def _nearest_placed(self, mine: _Words, at: int, step: int) -> int | None:
        """The nearest line above or below, in the same scene, that is on a line of the other draft."""
        draft = mine.draft
        for beside in range(at + step, at + step * LINES_BETWEEN_PARTS, step):
            if not 0 <= beside < len(draft) or draft.scenes[beside] != draft.scenes[at] or draft.is_heading[beside]:
                return None
            if draft.partner[beside] != FREE or beside in mine.further:
                return beside
        return None

    def _goes_on(self, mine: _Words, theirs: _Words, at: int, to: int, is_next: bool) -> list[Run]:
        """Where a whole line stands word for word at an end of what is left, and that tells enough."""
        words = mine.all(at)
        if self.likeness.told_by(words, 1) < (BESIDE if is_next else FURTHER):
            return []
        for start, segment in theirs.segments(to):
            if segment.startswith(words):
                return [(0, start, len(words))]
            if segment.endswith(words):
                return [(0, start + len(segment) - len(words), len(words))]
        return []

    def _is_what_is_left(self, mine: _Words, theirs: _Words, at: int, to: int, is_next: bool) -> list[Run]:
        words = mine.all(at)
        places = [start for start, segment in theirs.segments(to) if segment == words]
        return [(0, places[0], len(words))] if places and is_next else []

    def _is_among_what_is_left(self, mine: _Words, theirs: _Words, at: int, to: int, is_next: bool) -> list[Run]:
        words, best = mine.all(at), BESIDE if is_next else FURTHER
        found: list[Run] = []
        for offset, segment in theirs.segments(to):
            runs = self.likeness.runs_in_common(words, segment)
            score = self.likeness.told_by_runs(words, segment, runs)
            if score > best and sum(length for _, _, length in runs) >= max(FEWEST, LEAST * len(words)):
                best, found = score, [(start, offset + other, length) for start, other, length in runs]
        return found

    # -- anywhere

    def _share_runs(self) -> None:
        """Link lines, of which at least one is placed, by the runs of words left in both: what tells most first."""
        old, new = self.old, self.new
        changed = [(i, j) for i, j in enumerate(old.draft.partner) if j != FREE and old.keys[i] != new.keys[j]]
        if not changed:
            return
        placed_old, placed_new = [i for i, _ in changed], [j for _, j in changed]
        found = list(self._runs(old, [*placed_old, *_free(old)], new, placed_new))
        for told, j, i, (other, start, length) in self._runs(new, _free(new), old, placed_old):
            found.append((told, i, j, (start, other, length)))
        for _, i, j, run in sorted(found, key=lambda one: (-one[0], *one[1:])):
            start, other, length = run
            if old.left(i)[start : start + length] == new.left(j)[other : other + length]:
                self._share(old, new, i, j, [run])

    def _runs(
        self, mine: _Words, lines: Sequence[int], theirs: _Words, placed: Sequence[int]
    ) -> Iterator[tuple[float, int, int, Run]]:
        """Runs of words that some lines of one draft and some of the other have left, with what each tells."""
        rows: defaultdict[str, list[tuple[int, int]]] = defaultdict(list)
        for to in placed:
            left = theirs.left(to)
            for other in range(len(left) - ROW + 1):
                rows[left[other : other + ROW]].append((to, other))
        for at in lines:
            left = mine.left(at)
            reached: dict[int, int] = {}  # how far each line of the other draft has been followed
            for start in range(len(left) - ROW + 1):
                for to, other in rows.get(left[start : start + ROW], ())[:MOST_WITH_A_ROW]:
                    if start >= reached.get(to, 0):
                        length = _length_in_common(left[start:], theirs.left(to)[other:])
                        reached[to] = start + length
                        told = self.likeness.told_by(left[start : start + length], 1)
                        shorter = min(len(mine.all(at)), len(theirs.all(to)))
                        if length < min(LONG_ROW, MOST * shorter):
                            continue
                        if told >= self._least(mine.draft.scenes[at], theirs.draft.scenes[to], mine is self.old):
                            yield told, at, to, (start, other, length)

    def _least(self, scene: int, other: int, is_old: bool) -> float:
        pair = (scene, other) if is_old else (other, scene)
        return IN_THE_SCENE if pair in self.scenes else ANYWHERE


def _free(words: _Words) -> list[int]:
    draft = words.draft
    return [at for at, partner in enumerate(draft.partner) if partner == FREE and not draft.is_cue[at]]


def _length_in_common(one: str, other: str) -> int:
    """How many characters two texts begin with in common."""
    shortest = min(len(one), len(other))
    return next((at for at in range(shortest) if one[at] != other[at]), shortest)
