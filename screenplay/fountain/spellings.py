"""Which names of characters may be one name under two spellings."""

from __future__ import annotations

import re
import unicodedata
from collections import defaultdict
from itertools import combinations
from typing import TYPE_CHECKING

from rapidfuzz.distance import OSA

from screenplay.fountain.cues import same_name

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

# Beyond these a name is not compared with others: no cast is that large, and no name that long.
_MOST_NAMES = 1000
_LONGEST_NAME = 40
_SHORTEST_NAME = 4
_MOST_ALIKE = 50  # names that are alike but for one letter in one place, those that speak most
_MOST_ASKED = 2000  # lines in capitals that may be a name misspelled: what comes after so many is not looked at
# A name that differs in a letter's place from one that speaks at least so often, and itself speaks once, is a slip.
_OFTEN = 3
_TELLING = re.compile(r"[\W\d_]|(?<!\S)\S(?!\S)")


class Spellings:
    """The names in a script's cues, and how often each speaks."""

    def __init__(self, speeches: Mapping[str, int]) -> None:
        self._speeches = speeches
        self._by_shorter: dict[str, list[str]] = defaultdict(list)
        self._names = [name for name in speeches if _SHORTEST_NAME <= len(name) <= _LONGEST_NAME]
        if len(self._names) <= _MOST_NAMES:
            for name in sorted(self._names, key=lambda name: -speeches[name]):
                for shorter in _shorter(name):
                    if len(alike := self._by_shorter[shorter]) < _MOST_ALIKE:
                        alike.append(name)
        self._asked: dict[str, str | None] = {}
        self._same = frozenset(map(same_name, speeches))

    def __contains__(self, name: str) -> bool:
        """Whether somebody of that name speaks, in whatever case it is spelled."""
        return same_name(name) in self._same

    def one_letter_from(self, name: str) -> str | None:
        """The name that speaks most of those one letter away, None if there is none or this is one itself."""
        if name in self or not _SHORTEST_NAME <= len(name) <= _LONGEST_NAME:
            return None
        if name not in self._asked:
            if len(self._asked) >= _MOST_ASKED:
                return None
            self._asked[name] = self._most_spoken(name)
        return self._asked[name]

    def _most_spoken(self, name: str) -> str | None:
        candidates = {other for shorter in _shorter(name) for other in self._by_shorter.get(shorter, ())}
        near = [other for other in candidates if one_letter_apart(name, other)]
        return max(near, key=lambda other: (self._speeches[other], other), default=None)

    def likely_slips(self) -> Iterator[tuple[str, str]]:
        """Pairs of names that may be one, the rarer first, in no order; each rarer name once."""
        seen: set[str] = set()
        for one, other in [*self._same_letters(), *self._one_letter_apart()]:
            rare, usual = sorted((one, other), key=lambda name: self._speeches[name])
            if self._speeches[one] == self._speeches[other]:
                usual, rare = one, other
            if rare not in seen and usual not in seen:
                seen.add(rare)
                yield rare, usual

    def _same_letters(self) -> Iterator[tuple[str, str]]:
        first: dict[str, str] = {}
        for name in self._speeches:
            if (same := first.setdefault(_letters(name), name)) != name:
                yield same, name

    def _one_letter_apart(self) -> Iterator[tuple[str, str]]:
        for names in self._by_shorter.values():
            for one, other in combinations(names, 2):
                if one_letter_apart(one, other) and self._is_a_slip(one, other):
                    yield one, other

    def _is_a_slip(self, one: str, other: str) -> bool:
        """Whether two names a letter apart are likelier one name than two: a letter too many, or a rare one beside one
        that speaks often."""
        fewer, more = sorted((self._speeches[one], self._speeches[other]))
        return len(one) != len(other) or sorted(one) == sorted(other) or (fewer == 1 and more >= _OFTEN)


def one_letter_apart(one: str, other: str) -> bool:
    """Whether one letter more, less, other or two in another order makes one name the other.

    Numbers, and letters that stand alone, tell people apart: `GUARD 1` and `GUARD 2`, `MAN A` and `MAN B`.
    """
    return OSA.distance(one, other, score_cutoff=1) == 1 and _telling(one) == _telling(other)


def _telling(name: str) -> list[str]:
    """What tells people apart in a name: each character that is no letter, and letters that stand alone."""
    return _TELLING.findall(name)


def _shorter(name: str) -> set[str]:
    """The name, and what is left of it without one of its characters: names one letter apart share one of these."""
    return {name, *(name[:at] + name[at + 1 :] for at in range(len(name)))}


def _letters(name: str) -> str:
    """The name's letters and digits alone, without accents, so that JOSÉ is JOSE, and MARY-ANN is MARY ANN."""
    apart = unicodedata.normalize("NFKD", name.casefold().replace("ı", "i"))
    return "".join(character for character in apart if character.isalnum()) or name
