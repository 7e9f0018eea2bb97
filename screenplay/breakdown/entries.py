"""How an entry of a word list is written, and where it stands in a sentence.

    gun                 the word
    air rifle           these words, one after the other
    fire at/into        one word or the other
    hold … under        up to four other words may stand in the gap
    # feet above        a number, in digits or letters
    =flooded            this form alone

Each word stands for its other forms too: a thing for its plural, a doing for its third person, past and -ing, words of
an entry of several for all of them. Entries are parted by commas.
"""

from __future__ import annotations

import itertools
from collections import defaultdict
from typing import TYPE_CHECKING, NamedTuple

from screenplay.breakdown.inflections import inflected
from screenplay.breakdown.sentences import is_number, plain_word

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence

    from screenplay.breakdown.sentences import Sentence

_GAP, _NUMBER, _EXACT, _EITHER = "…", "#", "=", "/"
_WIDEST_GAP = 4


class Entry(NamedTuple):
    """What an entry looks for, word by word: the forms of each, None for a gap, an empty set for a number; and the tag
    that whoever reads the list gave it."""

    words: tuple[frozenset[str] | None, ...]
    tag: Hashable

    @property
    def is_single(self) -> bool:
        return len(self.words) == 1

    @property
    def length_before_gap(self) -> int:
        """How many of its words stand before any gap."""
        return self.words.index(None) if None in self.words else len(self.words)


class Match(NamedTuple):
    """Where an entry stands in a sentence: from the word `start` to before the word `end`."""

    entry: Entry
    start: int
    end: int


class Entries:
    """Some entries, each found by the longest of its words that stand before any gap."""

    def __init__(self, entries: Iterable[Entry]) -> None:
        self._by_word: dict[str, list[tuple[Entry, int]]] = defaultdict(list)
        for entry in entries:
            anchor = _anchor(entry.words)
            for form in entry.words[anchor] or ():
                self._by_word[form].append((entry, anchor))

    def matches(self, sentence: Sentence) -> Iterator[Match]:
        """Where any of the entries stands, in the order of the sentence's words."""
        for at, word in enumerate(sentence.words):
            for entry, anchor in self._by_word.get(word, ()):
                start = at - anchor
                end = _end(entry.words, sentence, start) if start >= 0 else None
                if end is not None:
                    yield Match(entry, start, end)


def _anchor(words: Sequence[frozenset[str] | None]) -> int:
    """Which word to look for first: a long one, for it is met the least."""
    before_gap = itertools.takewhile(lambda forms: forms is not None, words)
    return max(enumerate(before_gap), key=lambda each: min(map(len, each[1] or ()), default=0))[0]


def read_entries(told: str, tag: Hashable, forms: Callable[[str], frozenset[str]] = inflected) -> tuple[Entry, ...]:
    """The entries of a list as it is written; `forms` gives those of a word that stands alone."""
    return tuple(_entry(each.split(), tag, forms) for each in told.split(",") if each.strip())


def _entry(words: list[str], tag: Hashable, forms: Callable[[str], frozenset[str]]) -> Entry:
    alone = forms if len(words) == 1 else inflected
    return Entry(tuple(_forms(word, alone) for word in words), tag)


def _forms(word: str, forms: Callable[[str], frozenset[str]]) -> frozenset[str] | None:
    if word == _GAP:
        return None
    if word == _NUMBER:
        return frozenset()
    either = [plain_word(each) for each in word.removeprefix(_EXACT).split(_EITHER)]
    return frozenset(either) if word.startswith(_EXACT) else frozenset().union(*map(forms, either))


def _end(wanted: tuple[frozenset[str] | None, ...], sentence: Sentence, start: int) -> int | None:
    """Where the entry ends that begins at a word, None where it does not stand there."""
    at = start
    gap = False
    for forms in wanted:
        if forms is None:
            gap = True
            continue
        found = _next(forms, sentence, at, _WIDEST_GAP if gap else 0)
        if found is None or (found > start and _is_broken(sentence, at - 1, found, gap=gap)):
            return None
        at, gap = found + 1, False
    return at


def _next(forms: frozenset[str], sentence: Sentence, start: int, furthest: int) -> int | None:
    for at in range(start, min(start + furthest + 1, len(sentence.words))):
        word = sentence.words[at]
        if word in forms or (not forms and is_number(word)):
            return at
    return None


def _is_broken(sentence: Sentence, last: int, found: int, *, gap: bool) -> bool:
    """Whether a mark stands between two words of an entry that may not: none at all, or across a gap more than a
    comma."""
    stops = sentence.breaks_after if gap else sentence.stops_after
    return last >= 0 and any(stops(at) for at in range(last, found))
