"""Hot lines: lines of a script that several readers have something to say about."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

FEWEST_READERS = 3


@dataclass(frozen=True, slots=True)
class LinesRead:
    """Lines, from the first to the last, counted from 1, that a reader said something about."""

    reader: str
    first_line: int
    last_line: int


@dataclass(frozen=True, slots=True)
class HotLines:
    """Lines that follow each other, each of which the fewest readers or more said something about; `readers` are all
    who did on any of them, by name."""

    first_line: int
    last_line: int
    readers: tuple[str, ...]


def hot_lines(said: Iterable[LinesRead], fewest: int = FEWEST_READERS) -> tuple[HotLines, ...]:
    """The hot lines, in order. A reader counts once for a line, however much they said about it."""
    readers: dict[int, set[str]] = defaultdict(set)
    for each in said:
        for line in range(each.first_line, each.last_line + 1):
            readers[line].add(each.reader)
    found: list[HotLines] = []
    for line in sorted(line for line, who in readers.items() if len(who) >= fewest):
        on_it = readers[line]
        if found and found[-1].last_line == line - 1:
            before = found.pop()
            found.append(HotLines(before.first_line, line, tuple(sorted(on_it.union(before.readers)))))
        else:
            found.append(HotLines(line, line, tuple(sorted(on_it))))
    return tuple(found)
