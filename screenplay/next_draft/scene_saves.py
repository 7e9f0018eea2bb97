"""What became of the lines of a scene when its text was saved: nothing is guessed of lines that were not touched."""

from __future__ import annotations

from itertools import groupby, zip_longest
from typing import TYPE_CHECKING

from screenplay.comparing import LineOrigins, compare
from screenplay.fountain import LINE_ENDS, split_lines
from screenplay.model import Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from screenplay.comparing import Comparison

HEADS = frozenset({Kind.CHARACTER, Kind.SCENE_HEADING})


def rewritten_lines(before: str, after: str) -> LineOrigins:
    """Where each line of a text comes from that was rewritten in one go; lines differ by more than their ends.

    Only the stretch between the lines that both begin with and those that both end with was touched. One line in the
    place of one is that line, whatever its words. In a longer stretch the lines are compared; of those that this leaves
    over between two lines that were found, a paragraph in the place of a paragraph is that one, unless a cue or a
    heading is among them: then it may as well be somebody else's.
    """
    old, new = (tuple(line.rstrip(LINE_ENDS) for line in split_lines(text)) for text in (before, after))
    head = _alike(old, new)
    tail = _alike(old[head:][::-1], new[head:][::-1])
    rows, columns = range(head, len(old) - tail), range(head, len(new) - tail)
    known: dict[int, tuple[int, ...]] = {line: (line,) for line in range(1, head + 1)}
    known |= {len(old) - line: (len(new) - line,) for line in range(tail)}
    if len(rows) == len(columns) == 1:
        known[rows[0] + 1] = (columns[0] + 1,)
    elif rows and columns:
        known |= _Stretch(compare(before, after), rows, columns).targets()
    return LineOrigins.by_targets(known, len(new))


def _alike(some: Sequence[str], others: Sequence[str]) -> int:
    """How many lines both begin with."""
    pairs = zip_longest(some, others)
    return next((at for at, (one, other) in enumerate(pairs) if one != other), len(some))


class _Stretch:
    """The lines that one save touched, counted from 0: `rows` of the old text, `columns` of the new."""

    def __init__(self, comparison: Comparison, rows: range, columns: range) -> None:
        self.comparison = comparison
        self.rows, self.columns = rows, columns
        self.found = {
            fate.old - 1: on
            for fate in comparison.lines
            if fate.old - 1 in rows and (on := tuple(line - 1 for line in fate.new if line - 1 in columns))
        }
        self.taken = {column for on in self.found.values() for column in on}

    def targets(self) -> dict[int, tuple[int, ...]]:
        """The new lines that each old one came to, counted from 1."""
        told = dict(self.found)
        for rows, columns in self._gaps():
            told |= self._paragraphs(rows, columns)
        return {row + 1: tuple(column + 1 for column in on) for row, on in told.items()}

    def _gaps(self) -> Iterator[tuple[range, range]]:
        """Old lines that were not found, with the new ones between the lines that their neighbours came to."""
        left = self.columns.start - 1
        for is_found, run in groupby(self.rows, key=self.found.__contains__):
            rows = list(run)
            if is_found:
                left = max(self.found[rows[-1]])
                continue
            after = self.found.get(rows[-1] + 1)
            right = min(after) if after else self.columns.stop
            if not any(column in self.taken for column in range(left + 1, right)):
                yield range(rows[0], rows[-1] + 1), range(left + 1, right)

    def _paragraphs(self, rows: range, columns: range) -> dict[int, tuple[int, ...]]:
        old = _paragraphs(rows, self.comparison.old.kinds)
        new = _paragraphs(columns, self.comparison.new.kinds)
        if len(old) == 1:
            pairs = [(old[0], new[0])] if new else []
        elif len(new) == 1:
            pairs = [([row for paragraph in old for row in paragraph], new[0])]
        else:
            pairs = list(zip(old, new, strict=True)) if len(old) == len(new) else []
        return {
            row: on for before, after in pairs if self._speak_alike(before, after) for row, on in _each(before, after)
        }

    def _speak_alike(self, before: Sequence[int], after: Sequence[int]) -> bool:
        kinds = [self.comparison.old.kinds[row] for row in before]
        kinds += [self.comparison.new.kinds[column] for column in after]
        return HEADS.isdisjoint(kinds)


def _paragraphs(lines: range, kinds: Sequence[Kind]) -> list[list[int]]:
    """Runs of lines that are not blank."""
    runs = groupby(lines, key=lambda line: kinds[line] is not Kind.BLANK)
    return [list(run) for is_text, run in runs if is_text]


def _each(before: Sequence[int], after: Sequence[int]) -> Iterator[tuple[int, tuple[int, ...]]]:
    """Line by line where there are as many, else each old line to all that stand in the paragraph's place."""
    for row, column in zip_longest(before, after if len(before) == len(after) else ()):
        yield row, tuple(after) if column is None else (column,)
