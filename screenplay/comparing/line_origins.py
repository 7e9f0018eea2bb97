"""What is known of where the lines of a text come from, so that nothing has to be guessed of them."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.comparing.align import Alignment

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence


@dataclass(frozen=True, slots=True)
class LineOrigins:
    """For each line of a text, in order, the lines of an older one that it is known to come from.

    Lines count from 1. A line of which nothing is known has none; one that several were made into has them all, and
    several may come from the same. Numbers below 1 are marks of the caller's own, which go along with the lines.
    """

    lines: tuple[tuple[int, ...], ...] = ()

    @classmethod
    def unchanged(cls, count: int) -> LineOrigins:
        """Those of a text that is the older one, of so many lines."""
        return cls(tuple((line,) for line in range(1, count + 1)))

    @classmethod
    def by_targets(cls, targets: Mapping[int, Sequence[int]], count: int) -> LineOrigins:
        """Those of a text of so many lines; `targets` are the lines in it that each of the older one came to."""
        found: list[list[int]] = [[] for _ in range(count)]
        for line, on in sorted(targets.items()):
            for target in on:
                found[target - 1].append(line)
        return cls(tuple(map(tuple, found)))

    def then(self, later: LineOrigins) -> LineOrigins:
        """Those of a text that was made of this one, told of the text before this one."""
        return LineOrigins(tuple(_union(self.of(line) for line in lines) for lines in later.lines))

    def told_of(self, targets: Mapping[int, Sequence[int]]) -> LineOrigins:
        """The same told of another text than the older one: `targets` are the lines in it that each of these is on."""
        found = (_union(targets.get(line, (line,) if line < 1 else ()) for line in lines) for lines in self.lines)
        return LineOrigins(tuple(found))

    def told_of_kin(self, kin: LineOrigins) -> LineOrigins:
        """The same told of another text that was made of the older one; `kin` are that one's, told of the older one.

        Of a line that became several in both it is not known which of these are the same.
        """
        on: dict[int, list[int]] = {}
        for line, lines in enumerate(kin.lines, 1):
            for older in lines:
                on.setdefault(older, []).append(line)
        became = Counter(older for lines in self.lines for older in lines)
        return self.told_of({older: lines for older, lines in on.items() if len(lines) == 1 or became[older] == 1})

    def with_mark(self, mark: int, lines: range) -> LineOrigins:
        """The same with a mark on some lines."""
        marked = (_union([one, [mark]]) if line in lines else one for line, one in enumerate(self.lines, 1))
        return LineOrigins(tuple(marked))

    def marked(self, mark: int) -> range:
        """From the first line that has a mark to the last."""
        found = [line for line, lines in enumerate(self.lines, 1) if mark in lines]
        return range(found[0], found[-1] + 1) if found else range(0)

    def of(self, line: int) -> tuple[int, ...]:
        """Where a line comes from; nowhere that is known, for a line that the text does not have."""
        return self.lines[line - 1] if 0 < line <= len(self.lines) else ()

    def packed(self) -> list[list[int]]:
        """The same in few numbers: for each run of lines that come from as many in a row the first of these and the
        count, 0 for the first where nothing is known; a line that comes from several by itself, after a 0."""
        runs: list[list[int]] = []
        for lines in self.lines:
            first = lines[0] if lines else 0
            if len(lines) > 1:
                runs.append([0, 0, *lines])
            elif runs and first == _next_of(runs[-1]):
                runs[-1][1] += 1
            else:
                runs.append([first, 1])
        return runs

    @classmethod
    def unpacked(cls, runs: Iterable[Sequence[int]]) -> LineOrigins:
        """What was packed."""
        lines: list[tuple[int, ...]] = []
        for first, count, *several in runs:
            lines += [tuple(several)] if several else [(first + at,) if first else () for at in range(count)]
        return cls(tuple(lines))


def _union(several: Iterable[Iterable[int]]) -> tuple[int, ...]:
    return tuple(sorted({line for lines in several for line in lines}))


def _next_of(run: Sequence[int]) -> int | None:
    """The line that goes on with a run of packed lines; None after one that comes from several, and after a mark."""
    first, count, *several = run
    if several or first < 0:
        return None
    return first and first + count


def known_pairs(alignment: Alignment, origins: LineOrigins) -> set[tuple[int, int]]:
    """The lines of both drafts, as positions, that are known to be the same.

    Of several lines that one is known to have become, one that reads the same is it; and a line that stands as it was
    is nobody else's.
    """
    old, new = alignment.old, alignment.new
    position = {number: i for i, number in enumerate(old.numbers)}
    named = ((line, j) for j, number in enumerate(new.numbers) for line in origins.of(number))
    pairs = {(position[line], j) for line, j in named if line in position}
    same = {(i, j) for i, j in pairs if old.written[i] == new.written[j]}
    stand_old, stand_new = {i for i, _ in same}, {j for _, j in same}
    return same | {(i, j) for i, j in pairs if i not in stand_old and j not in stand_new}


def with_known_pairs(alignment: Alignment, known: set[tuple[int, int]]) -> Alignment:
    """The alignment with what is known in the place of what was guessed.

    A line of which nothing is known keeps its guess, but for new lines that are known to come from lines which the
    guess has not put there.
    """
    known_of: dict[int, set[int]] = {}
    from_of: dict[int, set[int]] = {}
    for i, j in known:
        known_of.setdefault(i, set()).add(j)
        from_of.setdefault(j, set()).add(i)
    targets: list[tuple[int, ...]] = []
    sources: list[list[int]] = [[] for _ in alignment.sources]
    for i, guessed in enumerate(alignment.targets):
        on = known_of.get(i) or {j for j in guessed if from_of.get(j, set()) <= set(alignment.sources[j])}
        targets.append(tuple(sorted(on)))
        for j in on:
            sources[j].append(i)
    return Alignment(alignment.old, alignment.new, targets, [tuple(on) for on in sources], alignment.renames)
