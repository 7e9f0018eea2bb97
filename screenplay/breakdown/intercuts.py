"""Which scenes a script cuts together by its INTERCUT lines, as for a telephone call of which both ends are shot.

Read are the lines alone, never what a call is about: a line that begins so, or is in capitals and has the word, and a
heading with it (common practice has no single form). A line may name places, which are found in the headings nearest to
it; or stand last in its scene, so that it leads into the next; or name people. One that does none of it says only that
its scene is intercut.
"""

from __future__ import annotations

import re
from collections import defaultdict
from typing import TYPE_CHECKING, NamedTuple

from screenplay.fountain import plain, setting_places
from screenplay.model import Block, Heading, Kind, Speech

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from screenplay.model import Screenplay

_INTERCUT = re.compile(r"\bINTERCUT(?:S|TING)?\b", re.IGNORECASE)
_BEGINS = re.compile(r"\W*(?:we )?intercut(?:ting|s)?\b", re.IGNORECASE)
_ENDS = re.compile(r"\b(?:END|STOP|OUT)\b(?: OF)?\W*(?:THE )?INTERCUT|\bINTERCUT\W+(?:ENDS?|ENDED|STOPS?|IS OVER)\W*$")
_SENTENCE_END = re.compile(r"(?<!\bINT)(?<!\bEXT)(?<!\bEST)(?<!\bMR)(?<!\bMRS)(?<!\bMS)(?<!\bDR)(?<!\bST)[.!?](?:\s|$)")
_OF_WHAT_FOLLOWS = re.compile(r"\bBETWEEN\W*$")
_ON_THE_PAGE = frozenset({Kind.ACTION, Kind.LYRIC, Kind.CENTERED})


class Intercut(NamedTuple):
    """That a scene is cut together with others, by the source line that says so. `scenes` are the ordinals of these
    others; where nothing says which they are, `named` are the characters whom the line names."""

    line: int
    scenes: tuple[int, ...] = ()
    named: tuple[str, ...] = ()


class _Line(NamedTuple):
    """A line that says INTERCUT: the ordinal of its scene, the source line, in capitals the rest of what it says, and
    whether it stands last in its scene or is its heading."""

    scene: int
    line: int
    says: str
    is_last: bool = False
    is_heading: bool = False


def intercuts_of(
    script: Screenplay, places: Sequence[Iterable[str]], names: Iterable[str]
) -> Mapping[int, tuple[Intercut, ...]]:
    """The intercuts of each scene that has any, by its ordinal. `places` are what the place of each scene may be
    called, in order; `names` those of the characters."""
    called = _called(places)
    names = tuple(names)
    sure: dict[int, dict[tuple[int, ...], Intercut]] = defaultdict(dict)
    unsaid: dict[int, Intercut] = {}
    for one in _lines(script):
        together = _together(one, called, len(places))
        for scene in together:
            others = tuple(sorted(together - {scene}))
            sure[scene].setdefault(others, Intercut(one.line, others))
        if not together:
            named = tuple(name for name in names if _where(name, one.says) is not None)
            unsaid.setdefault(one.scene, Intercut(one.line, named=named))
    alone = {scene: (one,) for scene, one in unsaid.items() if scene not in sure}
    return {scene: tuple(found.values()) for scene, found in sure.items()} | alone


def _lines(script: Screenplay) -> Iterator[_Line]:
    last = _last_lines(script)
    for element in script.elements:
        scene = script.scene_of[element.first_line - 1]
        if isinstance(element, Heading) and len(setting_places(element.place)) == 1:
            if says := _says(plain(element.printed), anywhere=True):
                yield _Line(scene, element.first_line, says, is_heading=True)
        elif isinstance(element, Block) and scene and element.kind in {Kind.ACTION, Kind.TRANSITION}:
            for line in element.lines:
                text = plain(line)
                if says := _says(text, anywhere=text.isupper()):
                    yield _Line(scene, line.line, says, is_last=line.line >= last[scene])


def _last_lines(script: Screenplay) -> Mapping[int, int]:
    """The last source line of each scene that has something to be shot, transitions not counted."""
    last: dict[int, int] = defaultdict(int)
    for element in script.elements:
        if isinstance(element, Speech) or (isinstance(element, Block) and element.kind in _ON_THE_PAGE):
            last[script.scene_of[element.first_line - 1]] = element.last_line
    return last


def _says(text: str, *, anywhere: bool) -> str:
    """What a line says from INTERCUT on, to the end of the sentence, in capitals; "" where it is none, or ends one."""
    found = _INTERCUT.search(text) if anywhere else _BEGINS.match(text)
    if not found:
        return ""
    says = " ".join(text[found.start() :].upper().replace("’", "'").split())
    end = _SENTENCE_END.search(says)
    return "" if _ENDS.search(text.upper()) else says[: end.start()] if end else says


def _called(places: Sequence[Iterable[str]]) -> dict[str, list[int]]:
    """The ordinals of the scenes at each place, by what it may be called, longest first."""
    found: dict[str, list[int]] = defaultdict(list)
    for ordinal, names in enumerate(places, start=1):
        for name in names:
            if told := " ".join(name.upper().replace("’", "'").split()):
                found[told].append(ordinal)
    return dict(sorted(found.items(), key=lambda each: -len(each[0])))


def _together(line: _Line, called: Mapping[str, Sequence[int]], count: int) -> frozenset[int]:
    """The scenes that a line cuts together, none where it does not say which."""
    named = _named(line, called)
    if named and (line.is_heading or len(named) == 1):
        named |= {line.scene}
    if len(named) > 1:
        return named
    if not line.is_last or line.scene == count:
        return frozenset()
    between = _OF_WHAT_FOLLOWS.search(line.says) and line.scene + 1 < count
    return frozenset({line.scene + 1, line.scene + 2} if between else {line.scene, line.scene + 1})


def _named(line: _Line, called: Mapping[str, Sequence[int]]) -> frozenset[int]:
    """For each place that the line names the scene nearest to it; of two as near, that to which the line leads."""
    rest = line.says
    found = set()
    for name, scenes in called.items():
        at = _where(name, rest)
        if at is not None and not (line.is_heading and set(scenes) == {line.scene}):
            rest = f"{rest[:at]}{'·' * len(name)}{rest[at + len(name) :]}"
            found.add(min(scenes, key=lambda scene: (abs(scene - line.scene), (scene > line.scene) != line.is_last)))
    return frozenset(found)


def _where(name: str, says: str) -> int | None:
    """Where a name stands in what a line says, as whole words; None where it does not."""
    found = re.search(rf"(?<!\w){re.escape(name.upper().replace('’', chr(39)))}(?!\w)", says)
    return found.start() if found else None
