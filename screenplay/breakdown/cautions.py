"""The cautions of each scene: what in it may need a qualified person before anyone shoots it, found by lists of words.

What is found are words, never risks: a list misses what it does not name, and knows no meaning. Whoever shows what was
found has to say so.
"""

from __future__ import annotations

import itertools
import re
from collections import defaultdict
from typing import TYPE_CHECKING, NamedTuple

from screenplay.breakdown.ages import grown_up
from screenplay.breakdown.caution_lists import Tag, WordRole, caution_lists
from screenplay.breakdown.children import children_in, grown_kin
from screenplay.breakdown.found_words import FoundWords, text_of
from screenplay.breakdown.known_people import known_people
from screenplay.breakdown.list_files import plain_words
from screenplay.breakdown.places import place_of
from screenplay.breakdown.scene_lines import scene_lines
from screenplay.breakdown.sentences import sentences_of
from screenplay.fountain import DASHES, plain, setting_places

if TYPE_CHECKING:
    from collections.abc import Collection, Container, Iterable, Iterator

    from screenplay.breakdown.entries import Match
    from screenplay.breakdown.known_people import KnownPeople
    from screenplay.breakdown.scene_lines import SceneLines, Told
    from screenplay.breakdown.sentences import Sentence
    from screenplay.model import Heading, Screenplay

ANIMALS = "animals"
CHILDREN = "children"
WATER = "water"
_UNDER = re.compile(r"(?:UNDER|UNDERNEATH|BENEATH|BELOW) ", re.IGNORECASE)
_BUILDINGS = plain_words("grammar", "places", "buildings")
_PLACE_PARTS = re.compile(
    rf" [{DASHES}]+ |[/,–—()]|\b(?:{'|'.join(sorted(plain_words('grammar', 'places', 'between')))})\b", re.IGNORECASE
)
_ANY = frozenset({"a", "an", "some"})
_OF_SOMEBODY_THERE = plain_words("grammar", "someone", "body") | plain_words("grammar", "someone", "of_a_body")
_LISTED = frozenset({WordRole.THINGS, WordRole.DOINGS, WordRole.OUTDOORS})
_PLACES = frozenset({WordRole.PLACES, WordRole.OUTDOOR_PLACES})
_SOMEWHERE = frozenset({WordRole.SOMEWHERE, WordRole.SOMEONE_SOMEWHERE})


class Find(NamedTuple):
    """Words in a scene for which a caution holds: its key, the words, and the source line they stand on."""

    key: str
    words: str
    line: int


def cautions_of(script: Screenplay) -> list[tuple[Find, ...]]:
    """The finds of each scene by its ordinal, at 0 of what stands before the first heading; by line in each."""
    scenes = scene_lines(script)
    people, grown, afloat = known_people(scenes), grown_kin(scenes), _on_water(scenes)
    found: list[tuple[Find, ...]] = []
    for scene, children in zip(scenes, children_in(scenes), strict=True):
        finds = [*_Search(scene, people, grown).finds(), *_under_water(scene, afloat)]
        finds += [Find(CHILDREN, one.words, one.line) for one in children]
        found.append(tuple(dict.fromkeys(sorted(finds, key=lambda find: find.line))))
    return found


def _on_water(scenes: Iterable[SceneLines]) -> frozenset[str]:
    """What the places are called that a heading has on water, in small letters: the gudrun, of THE GUDRUN - ON THE
    RIVER."""
    return frozenset(
        _without_the(place_of(place).name)
        for scene in scenes
        if scene.heading and any(tag.key == WATER and tag.role in _PLACES for tag, _ in _listed_places(scene.heading))
        for place in setting_places(scene.heading.place)
    )


def _under_water(scene: SceneLines, afloat: Container[str]) -> Iterator[Find]:
    """The place of a heading that is under one that is on water."""
    if scene.heading and scene.is_outdoors:
        for place in setting_places(scene.heading.place):
            name = place_of(place).name
            under = _UNDER.match(name)
            if under and _without_the(name[under.end() :]) in afloat:
                yield Find(WATER, " ".join(name.lower().split()), scene.heading.first_line)


def _without_the(name: str) -> str:
    return " ".join(name.casefold().split()).removeprefix("the ")


def _listed_places(heading: Heading) -> Iterator[tuple[Tag, str]]:
    """The listed places that a heading names, and their words."""
    for part in _PLACE_PARTS.split(" ".join(heading.place.split())):
        for place in sentences_of(part):
            for tag, match in caution_lists().matches(place):
                if _is_place(place, match):
                    yield tag, text_of(place, match)


def each_once(words: Iterable[str]) -> tuple[str, ...]:
    """Words in their order, each once, in whatever letters, and none that stand within longer ones of them: "up a
    ladder", and not "ladder" too."""
    first: dict[str, str] = {}
    for each in words:
        first.setdefault(each.casefold(), each)
    padded = [f" {key} " for key in first]
    return tuple(
        told for key, told in first.items() if not any(f" {key} " in other and f" {key} " != other for other in padded)
    )


class _Search:
    """The search of one scene; `people` are those whom the script has, `grown` the words that it has for somebody who
    is no child any more."""

    def __init__(self, scene: SceneLines, people: KnownPeople, grown: Collection[str]) -> None:
        self.scene = scene
        self.people = people
        self.grown = grown
        self.met: set[str] = set()
        self.pictured: set[str] = set()
        self.waiting: dict[Tag, dict[str, Find]] = defaultdict(dict)

    def finds(self) -> Iterator[Find]:
        """What is found, in no order; some of it more than once."""
        found = [find for told in self.scene.action for find in self._in_sentence(told)]
        found += self._in_heading()
        found += [find for find in self._somewhere() if not any(_is_within(find, other) for other in found)]
        found += [*self._faint(), *self._in_the_wet()]
        by_night = caution_lists().by_night
        return (find for find in found if self.scene.is_by_night or find.key not in by_night)

    def _in_sentence(self, told: Told) -> Iterator[Find]:
        matches: dict[str, dict[Tag, list[Match]]] = defaultdict(lambda: defaultdict(list))
        for tag, match in caution_lists().matches(told.sentence):
            if not self._is_somebody(tag.key, told.sentence, match):
                matches[tag.key][tag].append(match)
        for key, by_tag in matches.items():
            far_too = key in caution_lists().far_too
            words = FoundWords(told, by_tag, self.people, self.pictured, far_too=far_too)
            yield from (Find(key, text, told.line) for text in words.counting(outdoors=self.scene.is_outdoors))
            for tag, text in words.waiting():
                self.waiting[tag].setdefault(text, Find(key, text, told.line))
        self._remember(told)

    def _is_somebody(self, key: str, sentence: Sentence, match: Match) -> bool:
        """Whether a word for a child or an animal is for somebody who is none: a stepson of 40, or Cat, who speaks."""
        if key == CHILDREN:
            return self._is_no_child(sentence, match)
        is_name = match.entry.is_single and sentence.words[match.start] in self.people.only_names
        return key == ANIMALS and is_name and sentence.is_capital(match.start)

    def _is_no_child(self, sentence: Sentence, match: Match) -> bool:
        """Whether a word for a child means none, by an age, or as it only says for whom something is made."""
        if _is_for_children(sentence, match):
            return True
        is_grown = grown_up(sentence, match.start, match.end)
        return sentence.words[match.end - 1] in self.grown if is_grown is None else is_grown

    def _remember(self, told: Told) -> None:
        """What was first met as a picture or a likeness stays one."""
        self.pictured.update(
            word for at, word in enumerate(told.sentence.words) if at in told.seeming.likened and word not in self.met
        )
        self.met.update(told.sentence.words)

    def _in_heading(self) -> Iterator[Find]:
        heading = self.scene.heading
        if heading is None:
            return
        unless = {tag.key for tag in self.waiting if tag.role is WordRole.INDOOR_PLACES_UNLESS}
        for tag, words in _listed_places(heading):
            find = Find(tag.key, words, heading.first_line)
            if tag.role is WordRole.THESE:
                self.waiting[tag].setdefault(find.words, find)
            elif self._holds(tag, unless):
                yield find

    def _holds(self, tag: Tag, unless: Collection[str]) -> bool:
        """Whether a listed place counts for the scene's setting."""
        if tag.role is WordRole.INDOOR_PLACES:
            return self.scene.is_indoors and tag.key not in unless
        return tag.role is WordRole.PLACES or (tag.role is WordRole.OUTDOOR_PLACES and self.scene.is_outdoors)

    def _somewhere(self) -> Iterator[Find]:
        """Things that count where something is done anywhere in the scene."""
        for tag, done in self.waiting.items():
            these = self.waiting.get(tag._replace(role=WordRole.THESE))
            if tag.role in _SOMEWHERE and these:
                yield from (*these.values(), *done.values())

    def _faint(self) -> Iterator[Find]:
        """Faint words count by twos, or by one where a listed word of the same caution is spoken in the scene."""
        for tag, found in self.waiting.items():
            if tag.role is WordRole.FAINT and (len(found) > 1 or self._is_spoken_of(tag.key)):
                yield from found.values()

    def _is_spoken_of(self, key: str) -> bool:
        return any(
            tag.key == key and tag.role in _LISTED
            for line in self.scene.spoken
            for sentence in sentences_of(plain(line))
            for tag, _ in caution_lists().matches(sentence)
        )

    def _in_the_wet(self) -> Iterator[Find]:
        """Open electrics in the wet are a caution of both."""
        wet = [*self._waiting(WordRole.WET), *(self._waiting(WordRole.WET_OUTDOORS) if self.scene.is_outdoors else ())]
        electrics = self._waiting(WordRole.IN_THE_WET)
        if wet and electrics:
            yield from (*wet, *electrics)

    def _waiting(self, role: WordRole) -> list[Find]:
        return [find for tag, found in self.waiting.items() if tag.role is role for find in found.values()]


def _is_for_children(sentence: Sentence, match: Match) -> bool:
    """Whether a thing is of the kind that children have, and none of them need be there: a child's shoe, but not the
    child's shoe, nor a child's face."""
    if not sentence.is_possessive(match.end - 1) or match.end == len(sentence.words):
        return False
    if sentence.words[match.end] in _OF_SOMEBODY_THERE:
        return False
    before = range(match.start - 1, max(match.start - 3, -1), -1)
    near = itertools.takewhile(lambda at: not sentence.stops_after(at), before)
    return any(sentence.words[at] in _ANY for at in near)


def _is_within(find: Find, other: Find) -> bool:
    """Whether what is found is part of longer words of its line that are found for the same caution."""
    same = (find.key, find.line) == (other.key, other.line)
    return same and find.words != other.words and f" {find.words} " in f" {other.words} "


def _is_place(place: Sentence, match: Match) -> bool:
    """Whether a place is what an entry names, and not named after it: RIVER TESK and FISH VAN, but not FERRY HOUSE."""
    words = list(place.words)
    while len(words) > match.end and (words[-1].isdigit() or len(words[-1]) == 1):
        words.pop()
    if match.end == len(words):
        return True
    return match.start == 0 and _BUILDINGS.isdisjoint(words[match.end :])
