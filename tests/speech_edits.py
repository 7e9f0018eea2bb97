"""Edits speeches that stand each on one line, as prose is typed, and knows where each edited line went.

It shares no code with what it measures: a play comes as its package reads it, and an edit is made to the words of a
line, cut into sentences at their stops.
"""

from __future__ import annotations

import random
import re
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import TYPE_CHECKING

from tests.plays import PLAYS, read_play

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

STOP = re.compile(r"(?<=[.?!])\s+(?=[A-Z'‘“\"])")
FEWEST_WORDS = 6  # of a line that is halved or made several


@dataclass(frozen=True)
class Edited:
    """Two drafts, and for each edited line the old lines that it stood on, of which a note may be on any, and the new
    lines that its words are on. Lines count from 1. `kinds` says what was done to each."""

    old: str
    new: str
    kinds: tuple[str, ...]
    before: tuple[tuple[int, ...], ...]
    after: tuple[tuple[int, ...], ...]


@dataclass(frozen=True)
class Play:
    """A play's lines as Fountain, and the positions of its flowed speeches, scene by scene."""

    lines: tuple[str, ...]
    speeches: tuple[tuple[int, ...], ...]


@cache
def flowed(name: str) -> Play:
    """The play with what is said without a direction between it on one line."""
    lines: list[str] = []
    speeches: list[tuple[int, ...]] = []
    for scene in read_play(name):
        found: list[int] = []
        for block in scene:
            if lines:
                lines.append("")
            for text, is_spoken in block:
                if is_spoken:
                    found.append(len(lines))
                lines.append(text)
        speeches.append(tuple(found))
    return Play(tuple(lines), tuple(speeches))


def sentences(text: str) -> list[str]:
    return STOP.split(text)


def _half(text: str, *, last: bool) -> str:
    words = text.split()
    middle = len(words) // 2
    return " ".join(words[middle:] if last else words[:middle])


def _parts(text: str, count: int, rng: random.Random) -> list[str]:
    """The text in so many parts: at the ends of sentences if it has enough, else at any words."""
    units = sentences(text)
    if len(units) < count:
        units = text.split()
    ends = [0, *sorted(rng.sample(range(1, len(units)), count - 1)), len(units)]
    return [" ".join(units[start:end]) for start, end in pairwise(ends)]


def _has_sentences(text: str) -> bool:
    return len(sentences(text)) > 1


def _has_words(text: str) -> bool:
    return len(text.split()) >= FEWEST_WORDS


Change = tuple[list[str], list[str]]  # the lines before, the lines after


class Editor:
    """Makes edits in a play; the sentences that it adds are of the other play."""

    def __init__(self, name: str, seed: int) -> None:
        self.rng = random.Random(f"{name} {seed}")
        self.play = flowed(name)
        other = flowed(next(play for play in PLAYS if play != name))
        self.foreign = [
            sentence
            for scene in other.speeches
            for position in scene
            for sentence in sentences(other.lines[position])
            if sentence.endswith((".", "?", "!"))
        ]

    def one_line(self, kind: str) -> Edited:
        """An edit of this kind to a line drawn from all that it can be made to."""
        fits = _KINDS[kind][0]
        fitting = [at for scene in self.play.speeches for at in scene if fits(self.play.lines[at])]
        return self._edited([(self.rng.choice(fitting), kind)])

    def one_scene(self, count: int) -> Edited:
        """So many edits of any kinds to as many lines of one scene."""
        scene = self.rng.choice([scene for scene in self.play.speeches if len(scene) >= count])
        places = sorted(self.rng.sample(scene, count))
        return self._edited([(at, self._any_kind(self.play.lines[at])) for at in places])

    def _any_kind(self, text: str) -> str:
        return self.rng.choice([kind for kind, (fits, _) in _KINDS.items() if fits(text)])

    def _edited(self, places: Sequence[tuple[int, str]]) -> Edited:
        old: list[str] = []
        new: list[str] = []
        before, after = [], []
        done = 0
        for at, kind in places:
            old += self.play.lines[done:at]
            new += self.play.lines[done:at]
            was, now = _KINDS[kind][1](self.play.lines[at], self)
            before.append(tuple(range(len(old) + 1, len(old) + len(was) + 1)))
            after.append(tuple(range(len(new) + 1, len(new) + len(now) + 1)))
            old += was
            new += now
            done = at + 1
        rest = self.play.lines[done:]
        texts = ["\n".join([*lines, *rest, ""]) for lines in (old, new)]
        return Edited(texts[0], texts[1], tuple(kind for _, kind in places), tuple(before), tuple(after))

    def added(self, count: int) -> list[str]:
        return self.rng.sample(self.foreign, count)


def _joined(text: str, editor: Editor) -> Change:
    return _parts(text, editor.rng.choice((2, 3)), editor.rng), [text]


_KINDS: dict[str, tuple[Callable[[str], bool], Callable[[str, Editor], Change]]] = {
    "trimmed to its first sentence": (_has_sentences, lambda text, _: ([text], sentences(text)[:1])),
    "trimmed to its last sentence": (_has_sentences, lambda text, _: ([text], sentences(text)[-1:])),
    "trimmed to its first half": (_has_words, lambda text, _: ([text], [_half(text, last=False)])),
    "trimmed to its last half": (_has_words, lambda text, _: ([text], [_half(text, last=True)])),
    "four sentences added after": (bool, lambda text, editor: ([text], [" ".join([text, *editor.added(4)])])),
    "three sentences added before": (bool, lambda text, editor: ([text], [" ".join([*editor.added(3), text])])),
    "made two lines": (_has_words, lambda text, editor: ([text], _parts(text, 2, editor.rng))),
    "made three lines": (_has_words, lambda text, editor: ([text], _parts(text, 3, editor.rng))),
    "made one of several lines": (_has_words, _joined),
}
KINDS = tuple(_KINDS)
