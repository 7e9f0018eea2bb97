"""Which paragraph of a paper's next version is which of the one before: by their words, whatever moved."""

from __future__ import annotations

from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import TYPE_CHECKING

from rapidfuzz import fuzz

from review.notes.models import Fate

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

LIKE = 55  # of a hundred, by the characters two paragraphs share: how alike they have to be at least, tried by hand
WITHIN = 92  # the same, where one is looked for within the other
_ALL = 100  # of a likeness; what is the same has more
MOST_COMPARED = 250_000  # pairs: past that only paragraphs that stayed as they were are found


@dataclass(frozen=True, slots=True)
class ParagraphFate:
    """What became of a paragraph: its fate, and the index in the next version that it has; None where it is gone."""

    fate: Fate
    to: int | None


@dataclass(frozen=True, slots=True)
class ChangedParagraph:
    """A paragraph beside the version before: "kept", "moved", "reworded", "added" or "gone", with what it was before
    and what it is now, one of them empty where there is none."""

    what: str
    old: str
    new: str


def follow(old: Sequence[str], new: Sequence[str]) -> tuple[ParagraphFate, ...]:
    """What became of each paragraph of a version in the next one. Each of the new is that of one of the old at most."""
    found: dict[int, ParagraphFate] = {}
    taken: set[int] = set()
    for first, second, size in SequenceMatcher(None, old, new, autojunk=False).get_matching_blocks():
        for step in range(size):
            found[first + step] = ParagraphFate(Fate.KEPT, second + step)
            taken.add(second + step)
    left = [at for at in range(len(old)) if at not in found]
    free = [at for at in range(len(new)) if at not in taken]
    for likeness, _, at, to in sorted(_alike(old, new, left, free), reverse=True):
        if -at in found or -to in taken:
            continue
        found[-at] = ParagraphFate(Fate.MOVED if likeness > _ALL else Fate.REWORDED, -to)
        taken.add(-to)
    return tuple(found.get(at, ParagraphFate(Fate.GONE, None)) for at in range(len(old)))


def _alike(
    old: Sequence[str], new: Sequence[str], left: Sequence[int], free: Sequence[int]
) -> list[tuple[float, int, int, int]]:
    """Pairs that are alike enough: how much, how near they stand to each other, and, below nothing so that the first
    comes first, their indexes."""
    if len(left) * len(free) > MOST_COMPARED:
        return []
    pairs = []
    for nth, at in enumerate(left):
        for other, to in enumerate(free):
            likeness = _likeness(old[at], new[to])
            if likeness:
                pairs.append((likeness, -abs(nth - other), -at, -to))
    return pairs


def _likeness(some: str, other: str) -> float:
    if some == other:
        return _ALL + 1
    ratio = fuzz.ratio(some, other)
    if ratio >= LIKE:
        return ratio
    is_within = min(len(some), len(other)) > 2 * len("words") and fuzz.partial_ratio(some, other) >= WITHIN
    return LIKE if is_within else 0


def paragraph_changes(old: Sequence[str], new: Sequence[str]) -> tuple[ChangedParagraph, ...]:
    """The paragraphs of a version as they changed, in its order; those that are gone stand where they stood."""
    followed = follow(old, new)
    came_from = {one.to: (at, one.fate) for at, one in enumerate(followed) if one.to is not None}
    told: list[ChangedParagraph] = []
    waiting = [at for at, one in enumerate(followed) if one.to is None]
    for at, text in enumerate(new):
        if at not in came_from:
            told.append(ChangedParagraph("added", "", text))
            continue
        source, fate = came_from[at]
        if fate != Fate.MOVED:
            told += _gone(old, [one for one in waiting if one < source])
            waiting = [one for one in waiting if one > source]
        told.append(ChangedParagraph(str(fate.value), old[source], text))
    return (*told, *_gone(old, waiting))


def _gone(old: Sequence[str], which: Sequence[int]) -> list[ChangedParagraph]:
    return [ChangedParagraph("gone", old[at], "") for at in which]


def fates_in_each(versions: Mapping[int, Sequence[str]], number: int, at: int) -> dict[int, ParagraphFate]:
    """What became of a paragraph of a version in each version since, by their numbers."""
    fates: dict[int, ParagraphFate] = {}
    last, index = number, at
    for following in sorted(each for each in versions if each > number):
        one = follow(versions[last], versions[following])[index]
        fates[following] = one
        if one.to is not None:
            last, index = following, one.to
    return fates
