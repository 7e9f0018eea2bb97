"""Words that a department marked: where they stand in a script, and which words in capitals may want a mark.

A word that was marked once is known wherever it stands, in this draft and in later ones, in its plain inflections too.
What is found are words: a "torch" of one scene may be another in the next.
"""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from screenplay.breakdown.inflections import inflected
from screenplay.breakdown.trade_words import trade_words_in
from screenplay.fountain import plain
from screenplay.model import Block, Kind, Speech
from screenplay.words import word_spans, words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from screenplay.model import Printed, Screenplay

# What says how the page is read or shown, and a cue's extensions (common practice; from memory).
_OF_THE_PAGE = frozenset(
    {"fade", "cut", "intercut", "continued", "cont'd", "end", "title", "super", "angle", "close", "montage"}
    | {"os", "oc", "vo", "pre-lap", "filtered"}
)
_FORMS_OF_ADDRESS = frozenset({"mr", "mrs", "ms", "miss", "mx", "dr", "prof"})  # before a name, and of no department
_LOOSE_ENDS = ".,;:!?()[]\"“”'’*_…-–—"
_INITIALS = re.compile(r"(?:[^\W\d_]\.)+[^\W\d_]\.?", re.UNICODE)  # O.S., V.O., U.S.A.
_HEADS = re.compile(r"\b(?:MONTAGE|SERIES OF SHOTS)\b")  # END OF MONTAGE, MONTAGE - THE FIRST FIRING
_MOST_IN_A_ROW = 4  # what goes on in capitals for longer is a notice that is read, or shouted


@dataclass(frozen=True, slots=True)
class SoughtWord:
    """A word, or a few, that a department marked, in any letters: what is looked for in a script."""

    words: str
    department: str


class FoundMarkedWord(NamedTuple):
    """A marked word where it stands: what was looked for, the scene's ordinal, the source line, and the words there."""

    sought: SoughtWord
    scene: int
    line: int
    words: str


class Suggestion(NamedTuple):
    """Words in capitals in a line of action, and the departments whose lists have them, if any do."""

    words: str
    scene: int
    line: int
    departments: tuple[str, ...]


def find_marked_words(script: Screenplay, marked: Sequence[SoughtWord]) -> tuple[FoundMarkedWord, ...]:
    """Where marked words stand in action, parentheticals and dialogue, in order."""
    by_first: dict[str, list[tuple[SoughtWord, list[str]]]] = defaultdict(list)
    for sought in marked:
        its_words = [_plain(word) for word in words(sought.words)]
        if its_words:
            for form in _forms(its_words[0]) if len(its_words) == 1 else {its_words[0]}:
                by_first[form].append((sought, its_words))
    return tuple(place for line in _lines(script) for place in _in_line(script, line, by_first)) if by_first else ()


def suggestions(script: Screenplay, marked: Sequence[SoughtWord] = ()) -> tuple[Suggestion, ...]:
    """Words in capitals in action that nobody marked yet and that are no name of the cast, each once, where they stand
    first."""
    cast = {_plain(word) for element in script.elements if isinstance(element, Speech) for word in words(element.name)}
    known = {form for sought in marked for word in words(sought.words) for form in _forms(_plain(word))}
    found: dict[str, Suggestion] = {}
    for element in script.elements:
        if isinstance(element, Block) and element.kind is Kind.ACTION:
            for line in element.lines:
                for run in _capitals(plain(line)):
                    told = [_plain(word) for word in run.split()]
                    if (
                        told[0].replace(".", "") not in _OF_THE_PAGE
                        and cast.isdisjoint(told)
                        and not _FORMS_OF_ADDRESS.issuperset(told)
                        and not known.issuperset(told)
                        and run.casefold() not in found
                    ):
                        departments = tuple(one.key for one in trade_words_in([run]))
                        scene = script.scene_of[line.line - 1]
                        found[run.casefold()] = Suggestion(run, scene, line.line, departments)
    return tuple(found.values())


def _in_line(
    script: Screenplay, line: Printed, by_first: dict[str, list[tuple[SoughtWord, list[str]]]]
) -> Iterator[FoundMarkedWord]:
    text = plain(line)
    spans = word_spans(text)
    told = [_plain(text[start:end]) for start, end in spans]
    for at, word in enumerate(told):
        for sought, its_words in by_first.get(word, ()):
            last = at + len(its_words) - 1
            if last < len(told) and told[at:last] == its_words[:-1] and told[last] in _forms(its_words[-1]):
                words_there = text[spans[at][0] : spans[last][1]]
                yield FoundMarkedWord(sought, script.scene_of[line.line - 1], line.line, words_there)


def _lines(script: Screenplay) -> Iterator[Printed]:
    for element in script.elements:
        if isinstance(element, Speech) or (isinstance(element, Block) and element.kind is Kind.ACTION):
            yield from element.lines


def _capitals(text: str) -> Iterator[str]:
    """The runs of words in capitals in a line, none in one that heads a montage."""
    if text.isupper() and _HEADS.search(text):
        return
    run: list[str] = []
    for token in [*text.split(), ""]:
        word = token.strip(_LOOSE_ENDS)
        if _INITIALS.fullmatch(word) and f"{word}." in token:
            word += "."
        if len(word) > 1 and word.isupper() and not any(map(str.isdigit, word)):
            run.append(word)
            if token[-1] not in '.,;:!?)”"…':
                continue
        if run and len(run) <= _MOST_IN_A_ROW:
            yield " ".join(run)
        run = []


def _forms(word: str) -> frozenset[str]:
    return frozenset({word}) | inflected(word)


def _plain(word: str) -> str:
    return word.casefold().replace("’", "'").removesuffix("'s")
