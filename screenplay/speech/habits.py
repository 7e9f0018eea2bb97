"""How a character begins to speak, and to whom they speak."""

from __future__ import annotations

from collections import Counter, defaultdict
from itertools import accumulate
from typing import TYPE_CHECKING, NamedTuple, TypeVar

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from screenplay.speech.speeches import SpokenPart

_Begin = TypeVar("_Begin", str, tuple[str, str])

FEWEST_OPENINGS = 3
MOST_OPENINGS = 5


class Opening(NamedTuple):
    """A word, or two, with which speeches begin, in small letters, and how many do."""

    words: str
    times: int


class SpokenTo(NamedTuple):
    """Somebody a character speaks to: in how many speeches, and with how many words."""

    name: str
    speeches: int
    words: int


def openings(part: SpokenPart) -> tuple[Opening, ...]:
    """The first words with which at least FEWEST_OPENINGS speeches begin, the most frequent first; two words where
    those are as frequent as the first of them alone, or frequent enough themselves."""
    if len(part.speeches) < FEWEST_OPENINGS:
        return ()
    words, lengths = part.words, part.speech_words
    begins = list(zip(accumulate(lengths, initial=0), lengths, strict=False))
    ones = _often([words[at] for at, length in begins if length])
    twos = _often([(words[at], words[at + 1]) for at, length in begins if length > 1 and words[at] in ones])
    found = [Opening(" ".join(two), times) for two, times in twos.items()]
    for one, times in ones.items():
        if times > max((count for (first, _), count in twos.items() if first == one), default=0):
            found.append(Opening(one, times))
    return tuple(sorted(found, key=lambda opening: (-opening.times, opening.words))[:MOST_OPENINGS])


def _often(begins: Iterable[_Begin]) -> dict[_Begin, int]:
    return {begin: times for begin, times in Counter(begins).items() if times >= FEWEST_OPENINGS}


def addressees(parts: Mapping[str, SpokenPart]) -> dict[str, list[str]]:
    """To whom each speech of each character is said, in order, "" where nobody else speaks in the scene.

    Told by alternation alone: a speech is said to whoever else spoke last before it in its scene, and one that comes
    before anybody else's, to whoever else speaks next.
    """
    scenes: dict[int, list[tuple[int, str, int]]] = defaultdict(list)
    for name, part in parts.items():
        for at, (scene, speech) in enumerate(part.speeches):
            scenes[scene].append((speech.first_line, name, at))
    found = {name: [""] * len(part.speeches) for name, part in parts.items()}
    for speeches in scenes.values():
        speeches.sort()
        speakers = [name for _, name, _ in speeches]
        for (_, name, at), to in zip(speeches, _to_whom(speakers), strict=True):
            found[name][at] = to
    return found


def _to_whom(speakers: Sequence[str]) -> list[str]:
    """To whom each of the speakers of a scene speaks, in order."""
    found: list[str] = []
    other = ""
    for at, name in enumerate(speakers):
        if at and speakers[at - 1] != name:
            other = speakers[at - 1]
        found.append(other)
    first = speakers[0]
    second = next((name for name in speakers if name != first), "")
    return [to or second for to in found]


def spoken_to(part: SpokenPart, to: Sequence[str]) -> tuple[SpokenTo, ...]:
    """To whom a character speaks, most words first; speeches to nobody left out."""
    speeches = Counter(to)
    words = dict.fromkeys(speeches, 0)
    for said, name in zip(part.speech_words, to, strict=True):
        words[name] += said
    found = [SpokenTo(name, speeches[name], words[name]) for name in speeches if name]
    return tuple(sorted(found, key=lambda one: (-one.words, one.name)))
