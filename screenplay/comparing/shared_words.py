"""Words of a line that stand on a further line of the other draft: lines joined, lines split, a half given away.

A line is on one line of the other draft at most when this begins, and what the two have in common, word by word, is
covered. What is left is looked for on further lines: a line without a partner beside the lines that its neighbours are
on, first where it goes on word for word; what was wrapped at other words on the next line; and any run of words too
long to be chance, wherever it is.
"""

from __future__ import annotations

from bisect import bisect
from collections import defaultdict
from functools import cached_property
from typing import TYPE_CHECKING

from screenplay.comparing.draft_lines import FREE
from screenplay.comparing.line_words import LineWords

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from screenplay.comparing.gaps import Gaps
    from screenplay.comparing.word_diff import CommonRun

    Finding = Callable[[LineWords, LineWords, int, int, bool], list[CommonRun]]
    Having = dict[str, list[int]]

FEWEST, LEAST = 2, 1 / 3  # words, and of all words of a line, that have to be among what another line left
MOST = 0.5  # of the words of the shorter of two lines, for it to be in the other not by chance alone
BESIDE, FURTHER = 2.0, 4.0  # nats for a line next to a part of another, or near it, to be a further part
IN_THE_SCENE, ANYWHERE = 12.0, 20.0  # nats for a run of words to be the same words: some four that are not common
SHORTEST_RUN = 3  # words
REACH = 60  # lines that the parts of one line may take up
LONG_RUN = 6  # words that are no turn of phrase, unless they are most of a line
BLOTS = ("\U0010fffe", "\U0010ffff")


def shared_words(gaps: Gaps) -> list[tuple[int, int]]:
    """Further pairs of positions, old and new, of lines that have words in common beside their partners.

    A line that shares no word with its partner may be among them: it gives that partner up.
    """
    return _Sharing(gaps).found()


class _Sharing:
    def __init__(self, gaps: Gaps) -> None:
        self.likeness = gaps.likeness
        self.old = LineWords(gaps.old, gaps.likeness, BLOTS[0])
        self.new = LineWords(gaps.new, gaps.likeness, BLOTS[1])
        self.covered: set[int] = set()  # old lines that their partners have covered
        for i, j in enumerate(gaps.old.partner):
            if j != FREE and gaps.old.keys[i] != gaps.new.keys[j] and self.old.may_share(i) and self.new.may_share(j):
                self.old.changed[i], self.new.changed[j] = j, i

    @cached_property
    def scenes(self) -> set[tuple[int, int]]:
        """Pairs of scenes that have a line in common."""
        old, new = self.old.draft, self.new.draft
        return {(old.scenes[i], new.scenes[j]) for i, j in enumerate(old.partner) if j != FREE}

    def found(self) -> list[tuple[int, int]]:
        ways = ((self.old, self.new), (self.new, self.old))
        loose = [list(self._loose(mine, theirs)) for mine, theirs in ways]
        for finding in (self._goes_on, self._is_what_is_left, self._is_among_what_is_left):
            for at_way, (mine, theirs) in enumerate(ways):
                beside = [at for at in loose[at_way] if self._try_beside(mine, theirs, at, -1, finding)]
                beside += [at for at in reversed(loose[at_way]) if self._try_beside(mine, theirs, at, 1, finding)]
                loose[at_way] = sorted(set(beside))
        for mine, theirs in ways:
            self._share_over_line_ends(mine, theirs)
        if self.old.changed:
            self._share_anywhere()
        return sorted((i, j) for i, lines in self.old.further.items() for j in lines)

    def _share(self, mine: LineWords, theirs: LineWords, at: int, to: int, runs: Sequence[CommonRun]) -> None:
        self._cover_partner(mine, theirs, at)
        self._cover_partner(theirs, mine, to)
        self._give_up_chance_partner(mine, theirs, at)
        self._give_up_chance_partner(theirs, mine, to)
        self._cover(mine, theirs, at, to, runs)
        if to not in mine.on(at):
            mine.put_on(at, to)
            theirs.put_on(to, at)

    def _cover(self, mine: LineWords, theirs: LineWords, at: int, to: int, runs: Sequence[CommonRun]) -> None:
        for start, other, length in runs:
            mine.blot_out(at, start, length)
            theirs.blot_out(to, other, length)

    def _cover_partner(self, mine: LineWords, theirs: LineWords, at: int) -> None:
        """Let a line and its partner cover what they have in common, if they have not done so."""
        to = mine.changed.get(at)
        old_line = at if mine is self.old else to
        if to is not None and old_line is not None and old_line not in self.covered:
            self.covered.add(old_line)
            self._cover(mine, theirs, at, to, self.likeness.runs_in_common(mine.all(at), theirs.all(to)))

    def _give_up_chance_partner(self, mine: LineWords, theirs: LineWords, at: int) -> None:
        """A line that has its words elsewhere was put on its partner by chance, unless one is mostly in the other."""
        partner = mine.draft.partner[at]
        if partner == FREE or mine.draft.keys[at] == theirs.draft.keys[partner]:
            return
        part, whole = sorted((mine.all(at), theirs.all(partner)), key=len)
        shared = sum(length for _, _, length in self.likeness.runs_in_common(part, whole))
        if shared < MOST * len(part):
            theirs.draft.partner[partner] = mine.draft.partner[at] = FREE

    # -- beside what the neighbours are on

    def _loose(self, mine: LineWords, theirs: LineWords) -> Iterator[int]:
        """Lines without a partner, not far from those that changed, or with one that they share no word with."""
        changed = sorted(mine.changed)
        for at in mine.free:
            place = bisect(changed, at)
            is_near = any(abs(other - at) < REACH for other in changed[max(place - 1, 0) : place + 1])
            if is_near and mine.all(at):
                yield at
        words_of = self.likeness.words_of
        for at, to in mine.changed.items():
            words = words_of(mine.draft.texts[at])
            if words and not words & words_of(theirs.draft.texts[to]):
                yield at

    def _try_beside(self, mine: LineWords, theirs: LineWords, at: int, step: int, finding: Finding) -> bool:
        """Look for a line where its neighbour is; whether it is still to be found there."""
        beside = mine.line_beside(at, step)
        if beside is None or at in mine.further or not (beside in mine.changed or beside in mine.further):
            return False
        for to in mine.on(beside)[::-step]:
            if mine.draft.keys[beside] == theirs.draft.keys[to] or not self._may_share(mine, theirs, at, to):
                continue
            self._cover_partner(theirs, mine, to)
            runs = finding(mine, theirs, at, to, mine.is_next(at, beside))
            if runs:
                self._share(mine, theirs, at, to, runs)
                return False
        return True

    def _may_share(self, mine: LineWords, theirs: LineWords, at: int, to: int) -> bool:
        """Whether they have any two words in common, or all of the one."""
        words = self.likeness.words_of(mine.draft.texts[at])
        shared = len(words & self.likeness.words_of(theirs.draft.texts[to]))
        return shared >= min(FEWEST, len(words)) and theirs.may_share(to)

    def _goes_on(self, mine: LineWords, theirs: LineWords, at: int, to: int, is_next: bool) -> list[CommonRun]:
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

    def _is_what_is_left(self, mine: LineWords, theirs: LineWords, at: int, to: int, is_next: bool) -> list[CommonRun]:
        words = mine.all(at)
        places = [start for start, segment in theirs.segments(to) if segment == words]
        return [(0, places[0], len(words))] if places and is_next else []

    def _is_among_what_is_left(
        self, mine: LineWords, theirs: LineWords, at: int, to: int, is_next: bool
    ) -> list[CommonRun]:
        words, best = mine.all(at), BESIDE if is_next else FURTHER
        found: list[CommonRun] = []
        for offset, segment in theirs.segments(to):
            runs = self.likeness.runs_in_common(words, segment)
            score = self.likeness.told_by_runs(words, segment, runs)
            if score > best and sum(length for _, _, length in runs) >= max(FEWEST, LEAST * len(words)):
                best, found = score, [(start, offset + other, length) for start, other, length in runs]
        return found

    # -- wrapped at other words

    def _share_over_line_ends(self, mine: LineWords, theirs: LineWords) -> None:
        """What a line has left at its beginning or end stands at the end or beginning of the next line over there."""
        bound = theirs.draft.bound
        for at, to in mine.changed.items():
            for line in (to - 1, to + 1):
                is_next = 0 <= line < len(bound) and bound[max(line, to)]
                if not is_next or self._is_whole(theirs, mine, line) or mine.draft.partner[at] != to:
                    continue
                if self._may_share(mine, theirs, at, line):
                    self._share_over(mine, theirs, at, to, line)

    def _share_over(self, mine: LineWords, theirs: LineWords, at: int, to: int, line: int) -> None:
        self._cover_partner(mine, theirs, at)
        self._cover_partner(theirs, mine, line)
        segments = list(mine.segments(at))
        start, words = (segments[0] if line < to else segments[-1]) if segments else (0, "")
        if len(words) < FEWEST or self.likeness.told_by(words, 1) < FURTHER:
            return
        left = theirs.left(line)
        if line < to and start == 0 and left.endswith(words):
            self._share(mine, theirs, at, line, [(0, len(left) - len(words), len(words))])
        elif line > to and start + len(words) == len(mine.all(at)) and left.startswith(words):
            self._share(mine, theirs, at, line, [(start, 0, len(words))])

    def _is_whole(self, mine: LineWords, theirs: LineWords, at: int) -> bool:
        """Whether a line is as it was on the other draft's."""
        partner = mine.draft.partner[at]
        return partner != FREE and mine.draft.keys[at] == theirs.draft.keys[partner]

    # -- anywhere

    def _share_anywhere(self) -> None:
        """Link lines, of which at least one is placed, by the runs of words left in both: what tells most first."""
        old, new = self.old, self.new
        in_old, in_new = self._having(old), self._having(new)
        self._share_whole_lines(old, new, in_new)
        self._share_whole_lines(new, old, in_old)
        found = set(self._runs(old, new, [*old.changed, *old.free], in_new))
        for told, j, i, (other, start, length) in self._runs(new, old, new.free, in_old):
            found.add((told, i, j, (start, other, length)))
        for _, i, j, run in sorted(found, key=lambda one: (-one[0], *one[1:])):
            start, other, length = run
            if old.left(i)[start : start + length] == new.left(j)[other : other + length]:
                self._share(old, new, i, j, [run])

    def _having(self, words: LineWords) -> Having:
        """The changed lines that have each word that few lines have."""
        having: Having = defaultdict(list)
        for at in words.changed:
            for word in self.likeness.rare_words_of(words.draft.texts[at]):
                having[word].append(at)
        return having

    def _share_whole_lines(self, mine: LineWords, theirs: LineWords, having: Having) -> None:
        """Link a line that is nowhere to one of its scene that has come to have all its words in a row, whatever words
        scattered in it are those of another, if more than that is another's."""
        for at in mine.free:
            rare = self.likeness.rare_words_of(mine.draft.texts[at])
            for to in having.get(rare[0], ()) if rare and at not in mine.further else ():
                words, every = mine.all(at), theirs.all(to)
                if to in theirs.further or len(words) < SHORTEST_RUN or words not in every:
                    continue
                with_rest = mine.all(theirs.changed[to])
                rest = every.replace(words, "", 1)
                is_joined = words not in with_rest and self.likeness.runs_in_common(rest, with_rest)
                if (
                    is_joined
                    and self._are_of_one_scene(mine, theirs, at, to)
                    and self._tells(mine, theirs, at, to, words)
                ):
                    self._share(mine, theirs, at, to, [(0, every.find(words), len(words))])
                    break

    def _runs(
        self, mine: LineWords, theirs: LineWords, lines: Sequence[int], having: Having
    ) -> Iterator[tuple[float, int, int, CommonRun]]:
        """Runs of words that these lines and some of the other draft have left, with what each tells: two of the words
        are not common, nor the line's with its partner."""
        texts, words_of = mine.draft.texts, self.likeness.words_of
        for at in lines:
            partner = mine.changed.get(at)
            with_partner = words_of(theirs.draft.texts[partner]) if partner is not None else ()
            shared: dict[int, list[str]] = {}
            for word in self.likeness.rare_words_of(texts[at]):
                for to in having.get(word, ()) if word not in with_partner else ():
                    shared.setdefault(to, []).append(word)
            for to, words in shared.items():
                if len(words) >= FEWEST and to not in mine.on(at):
                    for word in words:
                        yield from self._run_through(mine, theirs, at, to, word)

    def _run_through(
        self, mine: LineWords, theirs: LineWords, at: int, to: int, word: str
    ) -> Iterator[tuple[float, int, int, CommonRun]]:
        """The run of words with this one among them that two lines have left, if it is more than chance."""
        self._cover_partner(mine, theirs, at)
        self._cover_partner(theirs, mine, to)
        left, other_left, character = mine.left(at), theirs.left(to), self.likeness.words_in_order(word)
        start, other = left.find(character), other_left.find(character)
        if start < 0 or other < 0:
            return
        before = _length_in_common(left[:start][::-1], other_left[:other][::-1])
        length = before + _length_in_common(left[start:], other_left[other:])
        run = left[start - before : start - before + length]
        is_phrase = length < min(LONG_RUN, MOST * min(len(left), len(other_left)))
        if length >= SHORTEST_RUN and not is_phrase and self._tells(mine, theirs, at, to, run):
            yield self.likeness.told_by(run, 1), at, to, (start - before, other - before, length)

    def _tells(self, mine: LineWords, theirs: LineWords, at: int, to: int, run: str) -> bool:
        """Whether these words in a row are more than chance in lines of one scene, or of any two."""
        told = self.likeness.told_by(run, 1)
        if self._are_of_one_scene(mine, theirs, at, to):
            return told >= IN_THE_SCENE
        return told >= ANYWHERE and len(run) >= LONG_RUN

    def _are_of_one_scene(self, mine: LineWords, theirs: LineWords, at: int, to: int) -> bool:
        scenes = mine.draft.scenes[at], theirs.draft.scenes[to]
        return (scenes if mine is self.old else scenes[::-1]) in self.scenes


def _length_in_common(one: str, other: str) -> int:
    """How many characters two texts begin with in common."""
    shortest = min(len(one), len(other))
    return next((at for at in range(shortest) if one[at] != other[at]), shortest)
