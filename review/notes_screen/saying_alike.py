"""Which notes say much the same, by their lines and their words, so that they can be decided in one go."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.comparing import word_changes
from screenplay.reception import telling_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

LEAST_ALIKE = 1 / 3  # of the words of two notes, those that both have (chosen by eye on notes of our own, unpublished)
LEAST_SHARED = 2  # words: one name in common says nothing yet


@dataclass(frozen=True, slots=True)
class Saying:
    """A note's key, what it is on, its lines in the draft shown, and its words; the wording that it `offers`, if any.

    `apart` is whatever keeps notes out of one group however alike they are: who may read them, and what it means to
    accept them.
    """

    note: int
    on: tuple[str, ...]
    first_line: int
    last_line: int
    words: frozenset[str]
    apart: tuple[str, ...] = ()
    offers: str | None = None


def words_that_count(body: str, wording: str | None, lines: str = "") -> frozenset[str]:
    """The words that count for a note: of what it says, and of what its wording would change of the lines that it is
    for. What both leave as it is says nothing of either: of these are the words it brings in, or where it brings none
    those that it cuts, each marked as cut."""
    said = telling_words(body)
    if wording is None:
        return said
    changes = word_changes(lines, wording)
    brought, cut = (telling_words(" ".join(each.text for each in changes if each.op == op)) for op in ("added", "cut"))
    return said | (brought or {f"-{word}" for word in cut})


def likeness(one: frozenset[str], other: frozenset[str]) -> float:
    """The share of their words that two notes have in common, from 0 to 1: Jaccard's index of the two sets (P. Jaccard,
    1912, The distribution of the flora in the alpine zone, New Phytologist 11). Of two without a word it is 0."""
    return len(one & other) / len(one | other) if one or other else 0.0


def are_alike(one: Saying, other: Saying) -> bool:
    """Whether two notes on the same thing, with a line in common, share a third of their words, and two at least; or
    offer the very same wording for the very same lines."""
    if one.note == other.note or (one.on, one.apart) != (other.on, other.apart):
        return False
    if one.offers is not None and _what_for(one) == _what_for(other):
        return True
    share_a_line = one.first_line <= other.last_line and other.first_line <= one.last_line
    shared = len(one.words & other.words)
    return share_a_line and shared >= LEAST_SHARED and likeness(one.words, other.words) >= LEAST_ALIKE


def _what_for(saying: Saying) -> tuple[str | None, int, int]:
    """The wording that it offers, and the lines that it is for."""
    return saying.offers, saying.first_line, saying.last_line


def saying_alike(sayings: Iterable[Saying]) -> list[tuple[int, ...]]:
    """Groups of two notes or more, by their keys, of which any two are alike; a note is in one at most.

    The likest are put together first, and whatever joins a group has to be like each of it (complete linkage), so that
    no chain of notes, each a little like the next, ends far from where it began. The order they come in says nothing.
    """
    ordered = sorted(sayings, key=lambda each: each.note)
    pairs = [(one, other) for one, other in _on_a_line_of_both(ordered) if are_alike(one, other)]
    alike = {(one.note, other.note) for one, other in pairs}
    pairs.sort(key=lambda pair: (-likeness(pair[0].words, pair[1].words), pair[0].note, pair[1].note))
    group_of: dict[int, tuple[int, ...]] = {each.note: (each.note,) for each in ordered}
    for one, other in pairs:
        first, second = group_of[one.note], group_of[other.note]
        if first != second and _all_alike(first, second, alike):
            joined = tuple(sorted((*first, *second)))
            group_of.update(dict.fromkeys(joined, joined))
    return sorted({group for group in group_of.values() if len(group) > 1})


def _on_a_line_of_both(sayings: Iterable[Saying]) -> Iterator[tuple[Saying, Saying]]:
    """The pairs that share a line, each with the smaller key first."""
    by_line = sorted(sayings, key=lambda each: (each.first_line, each.note))
    for at, one in enumerate(by_line):
        for further in range(at + 1, len(by_line)):
            other = by_line[further]
            if other.first_line > one.last_line:
                break
            yield (one, other) if one.note < other.note else (other, one)


def _all_alike(first: Sequence[int], second: Sequence[int], alike: set[tuple[int, int]]) -> bool:
    return all((min(one, other), max(one, other)) in alike for one in first for other in second)
