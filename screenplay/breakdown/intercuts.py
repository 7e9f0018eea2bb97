"""Which scenes a script cuts together by its INTERCUT lines, as for a telephone call of which both ends are shot.

Read are the lines alone, never what a call is about: a line that begins so, or is in capitals and has the word, and a
heading with it (common practice has no single form). A line may name places, which are found in the headings nearest to
it; or scenes by number; or people; or stand last in its scene, so that it leads into the next. One that does none of it
says only that its scene is intercut.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections import defaultdict
from typing import TYPE_CHECKING, NamedTuple

from screenplay.fountain import plain, setting_places
from screenplay.model import Block, Heading, Kind, Speech
from screenplay.script import headings_of

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

    from screenplay.model import Screenplay

INTERCUT = re.compile(r"\bINTERCUT(?:S|TING)?\b", re.IGNORECASE)
_BEGINS = re.compile(r"\W*(?:we )?intercut(?:ting|s)?\b", re.IGNORECASE)
_ENDS = re.compile(
    r"\b(?:END|STOP|OUT)\b(?: OF)?\W*(?:THE )?INTERCUT|\bINTERCUT\W+(?:ENDS?|ENDED|STOPS?|IS OVER)\W*$"
    r"|\b(?:NO|NOT|NEVER|WITHOUT)(?: (?:ANY|FURTHER|LONGER|MORE))* INTERCUT"
)
_SENTENCE_END = re.compile(
    r"(?<!\bINT)(?<!\bEXT)(?<!\bEST)(?<!\bMR)(?<!\bMRS)(?<!\bMS)(?<!\bDR)(?<!\bST)(?<!\bSC)(?<!\bSCS)[.!?](?:\s|$)"
)
_OF_WHAT_FOLLOWS = re.compile(r"\bBETWEEN\W*$")
# What follows the word where a sentence is one about the cut; "intercut shots" is not, nor is "intercutting is".
_OF_THE_CUT = re.compile(
    r"INTERCUT(?:S|TING)?\s*(?:$|[^\w\s]|(?:(?:THE|THIS|THEIR|A) )?(?:WITH|BETWEEN|TO|BACK|AND|AS|FROM|HERE|THROUGHOUT"
    r"|SCENES?|SCS?|PHONE|TELEPHONE|CALLS?|TWO|BOTH|THEM|CONVERSATIONS?)\b)"
)
_SCENES = re.compile(r"\b(?:SCENES?|SCS?)\b[\s.:#]*(?=[A-Z]{0,2}\d)")
_NUMBER = re.compile(r"\b[A-Z]{0,2}\d[\w.-]*")
_WORD = re.compile(r"\w+|[^\w\s]")
_BEFORE_A_NAME = frozenset({"WE", "INTERCUT", "INTERCUTS", "INTERCUTTING", "THE"})
_MOST_WORDS = 24  # of a name that a line is searched for
_ON_THE_PAGE = frozenset({Kind.ACTION, Kind.LYRIC, Kind.CENTERED})


class Intercut(NamedTuple):
    """That a scene is cut together with others, by the source line that says so. `scenes` are the ordinals of these
    others, in the order in which the line names them; where nothing says which they are, `named` are the characters
    whom the line names."""

    line: int
    scenes: tuple[int, ...] = ()
    named: tuple[str, ...] = ()


class _Line(NamedTuple):
    """A line that says INTERCUT: the ordinal of its scene, the source line, and in capitals the rest of what it says;
    whether it stands last in its scene, is its heading, is that and has no place of its own or several, or has several,
    so that both ends may be in the one scene; and whether it is a sentence that may be about something else."""

    scene: int
    line: int
    says: str
    is_last: bool = False
    is_heading: bool = False
    is_nowhere: bool = False
    has_both: bool = False
    is_doubtful: bool = False


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


class _Known(NamedTuple):
    """What a line may name: places; people, with the scenes in which they speak and are no voice alone, and in
    `mentioned` those whose action names them; and scenes by number. `met` are the people whom the action of a scene
    names but for its INTERCUT lines, of scenes that such a line ends. `last` is the last scene."""

    places: _Names
    people: _Names
    mentioned: _Names
    met: Mapping[int, set[tuple[str, ...]]]
    numbers: Mapping[str, int]
    last: int


def intercuts_of(
    script: Screenplay,
    places: Sequence[Iterable[str]],
    names: Sequence[str],
    speaking: Sequence[Collection[str]],
    mentioned: Mapping[int, Collection[str]],
) -> Mapping[int, tuple[Intercut, ...]]:
    """The intercuts of each scene that has any, by its ordinal. `places` are what the place of each scene may be
    called, in order; `names` those of the characters; `speaking` are those who speak in each scene and are no voice
    alone, and `mentioned` those whom its action names."""
    lines = list(_lines(script))
    known = _known(script, lines, places, names, speaking, mentioned)
    called = {tuple(_words(name)): name for name in names}
    sure: dict[int, dict[frozenset[int], Intercut]] = defaultdict(dict)
    unsaid: dict[int, Intercut] = {}
    for one in lines:
        together, people = _together(one, known)
        for scene in together:
            others = tuple(other for other in together if other != scene)
            sure[scene].setdefault(frozenset(others), Intercut(one.line, others))
        if not together and not (one.is_doubtful or one.has_both):
            named = tuple(name for words, name in called.items() if words in people)
            unsaid.setdefault(one.scene, Intercut(one.line, named=named))
    alone = {scene: (one,) for scene, one in unsaid.items() if scene not in sure}
    return {scene: tuple(found.values()) for scene, found in sure.items()} | alone


def _lines(script: Screenplay) -> Iterator[_Line]:
    last = _last_lines(script)
    for element in script.elements:
        scene = script.scene_of[element.first_line - 1]
        if isinstance(element, Heading):
            text = plain(element.printed)
            if says := _says(text, anywhere=True):
                several = len(setting_places(element.place)) > 1
                is_nowhere = several or (not element.setting and bool(INTERCUT.match(element.place)))
                says = _folded(text) if several else says
                yield _Line(scene, element.first_line, says, is_heading=True, is_nowhere=is_nowhere, has_both=several)
        elif isinstance(element, Block) and scene and element.kind in {Kind.ACTION, Kind.TRANSITION}:
            for line in element.lines:
                text = plain(line)
                if says := _says(text, anywhere=text.isupper()):
                    is_doubtful = not text.isupper() and not _OF_THE_CUT.search(says)
                    is_last = line.line >= last[scene]
                    yield _Line(scene, line.line, says, is_last=is_last, is_doubtful=is_doubtful)


def _last_lines(script: Screenplay) -> Mapping[int, int]:
    """The last source line of each scene that has something to be shot, transitions not counted."""
    last: dict[int, int] = defaultdict(int)
    for element in script.elements:
        if isinstance(element, Speech) or (isinstance(element, Block) and element.kind in _ON_THE_PAGE):
            last[script.scene_of[element.first_line - 1]] = element.last_line
    return last


def _says(text: str, *, anywhere: bool) -> str:
    """What a line says from INTERCUT on, to the end of the sentence, in capitals; "" where it is none, or ends one."""
    found = INTERCUT.search(text) if anywhere else _BEGINS.match(text)
    if not found:
        return ""
    says = _folded(text[found.start() :])
    end = _SENTENCE_END.search(says)
    return "" if _ENDS.search(text.upper()) else says[: end.start()] if end else says


def _folded(text: str) -> str:
    return " ".join(text.upper().replace("’", "'").split())


def _words(text: str) -> list[str]:
    return _WORD.findall(_folded(text))


def _known(
    script: Screenplay,
    lines: Sequence[_Line],
    places: Sequence[Iterable[str]],
    names: Sequence[str],
    speaking: Sequence[Collection[str]],
    mentioned: Mapping[int, Collection[str]],
) -> _Known:
    nowhere = {line.scene for line in lines if line.is_nowhere}
    at_places, at_people, at_mentioned = _Names(), _Names(), _Names()
    for name in names:
        at_people.add(name)
    for scene, (called, present) in enumerate(zip(places, speaking, strict=True), start=1):
        if scene in nowhere:
            continue
        told = dict.fromkeys(map(_folded, called))
        for these, found in ((told, at_places), (present, at_people), (mentioned.get(scene, ()), at_mentioned)):
            for name in these:
                found.add(name).append(scene)
    numbers: dict[str, int] = {}
    for scene, heading in enumerate(headings_of(script), start=1):
        if heading.number:
            numbers.setdefault(heading.number.upper().rstrip(".-"), scene)
    return _Known(at_places, at_people, at_mentioned, _met(script, lines, at_people), numbers, len(places))


def _met(script: Screenplay, lines: Iterable[_Line], people: _Names) -> Mapping[int, set[tuple[str, ...]]]:
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


def _together(line: _Line, known: _Known) -> tuple[tuple[int, ...], tuple[tuple[str, ...], ...]]:
    """The scenes that a line cuts together, none where it does not say which; and the people whom it names."""
    words = _words(line.says)
    found: dict[int, None] = {}
    begins = len(words)
    for at, name in known.places.standing_in(words):
        if near := _nearest(known.places.scenes[name], line):
            found[near] = None
            begins = min(begins, at)
        words[at : at + len(name)] = ["·"] * len(name)
    numbers = _numbers(line.says)
    found |= dict.fromkeys(known.numbers[number] for number in numbers if number in known.numbers)
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


def _numbers(says: str) -> list[str]:
    """The numbers of scenes that a line says."""
    found = _SCENES.search(says)
    return [number.rstrip(".-") for number in _NUMBER.findall(says, found.end())] if found else []


def _where_people_are(
    line: _Line, people: Sequence[tuple[str, ...]], owners: Collection[tuple[str, ...]], known: _Known
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


def _nearest(scenes: Sequence[int], line: _Line) -> int | None:
    """Of scenes in order the one nearest to a line; of two as near, that to which the line leads."""
    return line.scene if _has(scenes, line.scene) else _elsewhere(scenes, line)


def _elsewhere(scenes: Sequence[int], line: _Line) -> int | None:
    """The same, but for the line's own."""
    at = bisect_left(scenes, line.scene)
    after = at + _has(scenes, line.scene)
    near = (*scenes[max(at - 1, 0) : at], *scenes[after : after + 1])
    return min(near, key=lambda scene: (abs(scene - line.scene), (scene > line.scene) != line.is_last), default=None)
