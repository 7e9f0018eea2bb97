"""Who somebody is in a script: the names that it has, and the nouns that it uses of people.

A name stands over a speech, or is introduced in capitals, or has a capital within a sentence. A noun is used of people
where somebody called so speaks, or does what only people do: the ghillie nods.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from screenplay.breakdown.list_files import plain_words
from screenplay.breakdown.sentences import plain_word
from screenplay.fountain import plain
from screenplay.model import Kind
from screenplay.words import count_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from screenplay.breakdown.scene_lines import SceneLines
    from screenplay.breakdown.sentences import Sentence
    from screenplay.model import Speech

AWAY = re.compile(r"V\.? ?O|PHONE|RADIO|TELEPHONE|TELEVISION|\bTV\b|FILTER|PRE-?LAP|RECORDING|INTERCOM", re.IGNORECASE)
_BEHIND_A_NAME = frozenset({",", "("})  # at an introduction
_NO_NAME = plain_words("grammar", "children", "no_name")
_BY_PEOPLE = plain_words("grammar", "someone", "by_people")
_FEWEST_WORDS = 3
_TITLES = frozenset({"mr", "mrs", "ms", "miss", "dr", "sir", "young", "old", "little"})
_MAKES_A_NOUN = frozenset({"the", "a", "an", "another", "this", "that", "his", "her", "their", "our", "my", "your"})
_BEFORE_NOUNS = plain_words("grammar", "uses", "before_things")


class KnownPeople(NamedTuple):
    """The words in the names of a script, the nouns that it uses of people, and the names of one word by which somebody
    speaks and that no article makes a noun: CAT, of who speaks so where no "a CAT" stands; in small letters."""

    names: frozenset[str]
    nouns: frozenset[str]
    only_names: frozenset[str]


def known_people(scenes: Iterable[SceneLines]) -> KnownPeople:
    """Whom the scenes of a script have, those who never speak too."""
    names: set[str] = set()
    nouns: set[str] = set()
    speaking: set[str] = set()
    with_article: set[str] = set()
    for scene in scenes:
        for speech in scene.speeches:
            names.update(speech.name.casefold().split())
            nouns.update(_called(speech))
            speaking.update(_speaking(speech))
        for told in scene.action:
            for at, word in enumerate(told.sentence.words):
                if told.sentence.is_capital(at) and (_is_introduced(told.sentence, at) or _is_named(told.sentence, at)):
                    names.add(word)
                elif word in _BY_PEOPLE:
                    nouns.update(_doer(told.sentence, at))
                if told.sentence.is_capital(at) and at and told.sentence.words[at - 1] in _MAKES_A_NOUN:
                    with_article.add(word)
    return KnownPeople(frozenset(names), frozenset(nouns), frozenset(speaking - with_article))


def _speaking(speech: Speech) -> Iterator[str]:
    """The name of who says more than a bark or a growl, where it is one word and no noun with an article."""
    words = [word for word in map(plain_word, speech.name.split()) if word not in _TITLES]
    said = sum(count_words(plain(line)) for line in speech.lines if line.kind is Kind.DIALOGUE)
    if len(words) == 1 and said >= _FEWEST_WORDS and not _MAKES_A_NOUN.intersection(speech.name.casefold().split()):
        yield words[0]


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
