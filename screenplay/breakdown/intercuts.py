"""Which scenes a script cuts together by its INTERCUT lines, as for a telephone call of which both ends are shot.

Read are the lines alone, never what a call is about. A line may name places, which are found in the headings nearest to
it; or scenes by number; or people; or stand last in its scene, so that it leads into the next. One that does none of it
says only that its scene is intercut.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections import defaultdict
from typing import TYPE_CHECKING, NamedTuple

from screenplay.breakdown.intercut_lines import folded, intercut_lines, scene_numbers
from screenplay.breakdown.places import names_of_places
from screenplay.fountain import plain
from screenplay.model import Block, Kind
from screenplay.script import headings_of

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

    from screenplay.breakdown.cast_by_scene import CastByScene
    from screenplay.breakdown.intercut_lines import IntercutLine
    from screenplay.model import Screenplay

_OF_WHAT_FOLLOWS = re.compile(r"\bBETWEEN\W*$")
_WORD = re.compile(r"\w+|[^\w\s]")
_BEFORE_A_NAME = frozenset({"WE", "INTERCUT", "INTERCUTS", "INTERCUTTING", "THE"})
_MOST_WORDS = 24  # of a name that a line is searched for
_MOST_SCENES = 30  # from one to another


class Intercut(NamedTuple):
    """That a scene is cut together with others, by the source line that says so. `scenes` are the ordinals of these
    others, in the order in which the line names them; where nothing says which they are, `named` are the characters
    whom the line names. `missing` are the numbers that it names and no scene has."""

    line: int
    scenes: tuple[int, ...] = ()
    named: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()


class _Names:
    """Names, each with the scenes that it stands for, in order, to be found in what a line says as whole words, in a
    time that does not depend on how many names there are."""

    def __init__(self) -> None:
        self.scenes: dict[tuple[str, ...], list[int]] = {}
        self._lengths: dict[str, list[int]] = {}

    def add(self, name: str) -> list[int]:
        """The scenes of a name, to be added to; those of one that is too long to be looked for are kept nowhere."""
        words = tuple(_words(name))
        if not 0 < len(words) <= _MOST_WORDS:
            return []
        lengths = self._lengths.setdefault(words[0], [])
        if len(words) not in lengths:
            lengths.append(len(words))
            lengths.sort(reverse=True)
        return self.scenes.setdefault(words, [])

    def standing_in(self, words: Sequence[str]) -> Iterator[tuple[int, tuple[str, ...]]]:
        """Where names stand in words, in order; of several that begin at one word, the longest."""
        at = 0
        while at < len(words):
            names = (tuple(words[at : at + length]) for length in self._lengths.get(words[at], ()))
            name = next((name for name in names if name in self.scenes), ())
            if name:
                yield at, name
            at += len(name) or 1


class _Nameable(NamedTuple):
    """What a line may name: places; people, with the scenes in which they speak and are no voice alone, and in
    `mentioned` those whose action names them; and scenes by number, of which `numbered` are all that have one, in
    order. `met` are the people whom the action of a scene names but for its INTERCUT lines, of scenes that such a line
    ends. `last` is the last scene."""

    places: _Names
    people: _Names
    mentioned: _Names
    met: Mapping[int, set[tuple[str, ...]]]
    numbers: Mapping[str, int]
    numbered: Sequence[int]
    last: int


def intercuts_of(
    script: Screenplay, cast: CastByScene, numbers: Sequence[str | None] | None = None
) -> Mapping[int, tuple[Intercut, ...]]:
    """The intercuts of each scene that has any, by its ordinal. `numbers` are those of the scenes, in order, where they
    are not those in the headings."""
    lines = list(intercut_lines(script))
    if not lines:
        return {}
    known = _known(script, lines, cast, numbers)
    called = {tuple(_words(name)): name for name in cast.names}
    sure: dict[int, dict[frozenset[int], Intercut]] = defaultdict(dict)
    unsaid: dict[int, Intercut] = {}
    for one in lines:
        numbered = scene_numbers(one.says, known.numbers)
        together, people = _together(one, known, numbered)
        missing = tuple(dict.fromkeys(each for pair in numbered for each in pair if each not in known.numbers))
        for scene in together:
            others = tuple(other for other in together if other != scene)
            sure[scene].setdefault(frozenset(others), Intercut(one.line, others, missing=missing))
        if not together and not (one.is_doubtful or one.has_both):
            named = tuple(name for words, name in called.items() if words in people)
            unsaid.setdefault(one.scene, Intercut(one.line, named=named, missing=missing))
    alone = {scene: (one,) for scene, one in unsaid.items() if scene not in sure}
    return {scene: tuple(found.values()) for scene, found in sure.items()} | alone


def _words(text: str) -> list[str]:
    return _WORD.findall(folded(text))


def _known(
    script: Screenplay, lines: Sequence[IntercutLine], cast: CastByScene, numbers: Sequence[str | None] | None
) -> _Nameable:
    headings = headings_of(script)
    nowhere = {line.scene for line in lines if line.is_nowhere}
    at_places, at_people, at_mentioned = _Names(), _Names(), _Names()
    for name in cast.names:
        at_people.add(name)
    for scene, called in enumerate(names_of_places(headings), start=1):
        if scene in nowhere:
            continue
        told = dict.fromkeys(map(folded, called))
        speaking, mentioned = cast.speaking_there(scene), cast.named.get(scene, ())
        for these, found in ((told, at_places), (speaking, at_people), (mentioned, at_mentioned)):
            for name in these:
                found.add(name).append(scene)
    numbered: dict[str, int] = {}
    for scene, number in enumerate(numbers or [heading.number for heading in headings], start=1):
        if number:
            numbered.setdefault(number.upper().rstrip(".-"), scene)
    met = _met(script, lines, at_people)
    return _Nameable(at_places, at_people, at_mentioned, met, numbered, [*numbered.values()], len(headings))


def _met(script: Screenplay, lines: Iterable[IntercutLine], people: _Names) -> Mapping[int, set[tuple[str, ...]]]:
    ended = {line.scene for line in lines if line.is_last}
    said = {line.line for line in lines}
    found: dict[int, set[tuple[str, ...]]] = defaultdict(set)
    for element in script.elements:
        scene = script.scene_of[element.first_line - 1]
        if scene in ended and isinstance(element, Block) and element.kind is Kind.ACTION:
            for line in element.lines:
                if line.line not in said:
                    found[scene].update(name for _, name in people.standing_in(_words(plain(line))))
    return found


def _together(
    line: IntercutLine, known: _Nameable, numbers: Sequence[tuple[str, str]]
) -> tuple[tuple[int, ...], tuple[tuple[str, ...], ...]]:
    """The scenes that a line cuts together, none where it does not say which; and the people whom it names."""
    words = _words(line.says)
    found: dict[int, None] = {}
    begins = len(words)
    for at, name in known.places.standing_in(words):
        if near := _nearest(known.places.scenes[name], line):
            found[near] = None
            begins = min(begins, at)
        words[at : at + len(name)] = ["·"] * len(name)
    found |= dict.fromkeys(scene for first, last in numbers for scene in _from_to(first, last, known))
    at_people = list(known.people.standing_in(words))
    people = tuple(dict.fromkeys(name for _, name in at_people))
    owners = {name for at, name in at_people if words[at + len(name) : at + len(name) + 2] == ["'", "S"]}
    begins = min([begins, *(at for at, _ in at_people)])
    if line.is_doubtful and not {*filter(str.isalnum, words[:begins])} <= _BEFORE_A_NAME:
        return (), people
    if found and (line.is_heading or len(found) == 1):
        found[line.scene] = None
    if len(found) > 1:
        return tuple(found), people
    if numbers:
        return (), people
    if people:
        return _where_people_are(line, people, owners, known), people
    if not line.is_last or line.is_doubtful or line.scene == known.last:
        return (), people
    between = _OF_WHAT_FOLLOWS.search(line.says) and line.scene + 1 < known.last
    return ((line.scene + 1, line.scene + 2) if between else (line.scene, line.scene + 1)), people


def _from_to(first: str, last: str, known: _Nameable) -> Sequence[int]:
    """The numbered scenes that stand from one to another; where there are too many to be intercut, or one of the two is
    not there, only those of the two that are."""
    ends = [known.numbers[number] for number in dict.fromkeys((first, last)) if number in known.numbers]
    if len(ends) < 2:
        return ends
    within = slice(bisect_left(known.numbered, min(ends)), bisect_left(known.numbered, max(ends)) + 1)
    return known.numbered[within] if within.stop - within.start <= _MOST_SCENES else ends


def _where_people_are(
    line: IntercutLine, people: Sequence[tuple[str, ...]], owners: Collection[tuple[str, ...]], known: _Nameable
) -> tuple[int, ...]:
    """The scenes cut together by a line that ends its scene, or is a heading, and names people: for each of them who is
    not in its own, the next scene if they are in that, or else the nearest in which they speak, or are named. Of the
    owners of what it names, a place of which no heading tells, the nearest is not it."""
    if not line.is_last and not line.is_heading:
        return ()
    here = {name for name in people if not line.is_nowhere and _has(known.people.scenes[name], line.scene)}
    here = here or {*people} & known.met.get(line.scene, set())
    follows = line.scene + 1 if line.is_last else 0
    found: dict[int, None] = {}
    for name in [name for name in people if name not in here] or people:
        speaks, is_named = known.people.scenes[name], known.mentioned.scenes.get(name, [])
        if _has(speaks, follows) or _has(is_named, follows):
            found[follows] = None
        elif not (name in here or name in owners) and (near := _elsewhere(speaks, line) or _elsewhere(is_named, line)):
            found[near] = None
    if here or len(found) == 1 or line.is_heading:
        found[line.scene] = None
    return tuple(found) if len(found) > 1 else ()


def _has(scenes: Sequence[int], scene: int) -> bool:
    at = bisect_left(scenes, scene)
    return at < len(scenes) and scenes[at] == scene


def _nearest(scenes: Sequence[int], line: IntercutLine) -> int | None:
    """Of scenes in order the one nearest to a line; of two as near, that to which the line leads."""
    return line.scene if _has(scenes, line.scene) else _elsewhere(scenes, line)


def _elsewhere(scenes: Sequence[int], line: IntercutLine) -> int | None:
    """The same, but for the line's own."""
    at = bisect_left(scenes, line.scene)
    after = at + _has(scenes, line.scene)
    near = (*scenes[max(at - 1, 0) : at], *scenes[after : after + 1])
    return min(near, key=lambda scene: (abs(scene - line.scene), (scene > line.scene) != line.is_last), default=None)
