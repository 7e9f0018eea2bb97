"""Who somebody is in a script: the names that it has, and the nouns that it uses of people.

A name stands over a speech, or is introduced in capitals, or has a capital within a sentence. A noun is used of people
where somebody called so speaks, or does what only people do: the ghillie nods.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from screenplay.breakdown.list_files import plain_words
from screenplay.breakdown.sentences import plain_word

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from screenplay.breakdown.scene_lines import SceneLines
    from screenplay.breakdown.sentences import Sentence
    from screenplay.model import Speech

AWAY = re.compile(r"V\.? ?O|PHONE|RADIO|TELEPHONE|TELEVISION|\bTV\b|FILTER|PRE-?LAP|RECORDING|INTERCOM", re.IGNORECASE)
_BEHIND_A_NAME = frozenset({",", "("})  # at an introduction
_NO_NAME = plain_words("grammar", "children", "no_name")
_BY_PEOPLE = plain_words("grammar", "someone", "by_people")
_BEFORE_NOUNS = plain_words("grammar", "uses", "before_things")


class KnownPeople(NamedTuple):
    """The words in the names of a script, and the nouns that it uses of people, in small letters."""

    names: frozenset[str]
    nouns: frozenset[str]


def known_people(scenes: Iterable[SceneLines]) -> KnownPeople:
    """Whom the scenes of a script have, those who never speak too."""
    names: set[str] = set()
    nouns: set[str] = set()
    for scene in scenes:
        for speech in scene.speeches:
            names.update(speech.name.casefold().split())
            nouns.update(_called(speech))
        for told in scene.action:
            for at, word in enumerate(told.sentence.words):
                if told.sentence.is_capital(at) and (_is_introduced(told.sentence, at) or _is_named(told.sentence, at)):
                    names.add(word)
                elif word in _BY_PEOPLE:
                    nouns.update(_doer(told.sentence, at))
    return KnownPeople(frozenset(names), frozenset(nouns))


def _called(speech: Speech) -> Iterator[str]:
    """VERGER, of who speaks as THE VERGER or OLD VERGER 2; nothing of MAN WITH LAMP, or of a voice from a radio."""
    words = [word for word in map(plain_word, speech.name.split()) if word not in _NO_NAME]
    words = [word for word in words if not word.strip("#").isdigit()]
    if len(words) == 1 and not any(map(AWAY.search, speech.extensions)):
        yield words[0]


def _is_introduced(sentence: Sentence, at: int) -> bool:
    after = at + 1
    if not sentence.is_all_capitals(at) or after == len(sentence.words):
        return False
    return sentence.words[after].isdigit() or sentence.gaps[at].strip() in _BEHIND_A_NAME


def _is_named(sentence: Sentence, at: int) -> bool:
    """Whether a word has a capital where not the beginning of the sentence gives it one, for its first always has."""
    within = at > 0 and not sentence.stops_after(at - 1) and not sentence.is_capital(at - 1)
    return within and not sentence.is_all_capitals(at)


def _doer(sentence: Sentence, at: int) -> Iterator[str]:
    """The noun before what only people do, behind "the" or the like: "verger", of "the old verger nods"."""
    for start in range(at - 2, max(at - 4, -1), -1):
        if sentence.stops_after(start + 1) or sentence.stops_after(start):
            return
        if sentence.words[start] in _BEFORE_NOUNS:
            yield sentence.words[at - 1]
            return
