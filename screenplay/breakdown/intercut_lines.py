"""The lines of a script that say INTERCUT, and what they say of it: what follows the word, and the numbers of scenes.

A line that begins so, or is in capitals and has the word, and a heading with it (common practice has no single form).
"""

from __future__ import annotations

import re
from collections import defaultdict
from typing import TYPE_CHECKING, NamedTuple

from screenplay.breakdown.places import INTERCUT, is_nowhere, settings_by_heading
from screenplay.fountain import DASHES, plain, setting_fields
from screenplay.model import Block, Heading, Kind, Speech
from screenplay.script import headings_of

if TYPE_CHECKING:
    from collections.abc import Container, Iterator, Mapping

    from screenplay.model import Screenplay

_BEGINS = re.compile(r"\W*(?:we )?intercut(?:ting|s)?\b", re.IGNORECASE)
_ENDS = re.compile(
    r"\b(?:END|STOP|OUT)\b(?: OF)?\W*(?:THE )?INTERCUT|\bINTERCUT\W+(?:ENDS?|ENDED|STOPS?|IS OVER)\W*$"
    r"|\b(?:NO|NOT|NEVER|WITHOUT)(?: (?:ANY|FURTHER|LONGER|MORE))* INTERCUT"
)
_SENTENCE_END = re.compile(
    r"(?<!\bINT)(?<!\bEXT)(?<!\bEST)(?<!\bMR)(?<!\bMRS)(?<!\bMS)(?<!\bDR)(?<!\bST)(?<!\bSC)(?<!\bSCS)[.!?](?:\s|$)"
)
# What follows the word where a sentence is one about the cut; "intercut shots" is not, nor is "intercutting is".
_OF_THE_CUT = re.compile(
    r"INTERCUT(?:S|TING)?\s*(?:$|[^\w\s]|(?:(?:THE|THIS|THEIR|A) )?(?:WITH|BETWEEN|TO|BACK|AND|AS|FROM|HERE|THROUGHOUT"
    r"|SCENES?|SCS?|PHONE|TELEPHONE|CALLS?|TWO|BOTH|THEM|CONVERSATIONS?)\b)"
)
_SCENES = re.compile(r"\b(?:SCENES?|SCS?)\b[\s.:#]*(?:FROM\s+)?(?=[A-Z]{0,2}\d)")
_NUMBER = re.compile(r"[A-Z]{0,2}\d[\w.]*")
_MOST_CHARACTERS = 40  # of a number with dashes that is looked for: in 1-2-3-4 one may begin at each
_NUMBER_WITH_DASHES = re.compile(rf"(?=[A-Z]{{0,2}}\d)[\w.-]{{1,{_MOST_CHARACTERS}}}+(?![\w.-])")
_THEN = re.compile(rf"\s*(?:,\s*(?:AND\b)?|[/&+]|\b(?:AND|WITH|TO|THROUGH|THRU)\b|[{DASHES}])\s*(?=[A-Z]{{0,2}}\d)")
_UP_TO = re.compile(rf"\s*(?:TO|THROUGH|THRU|[{DASHES}])\s*")
_HOUR = re.compile(r"\s*(?:[AP]\.?M\b|O'CLOCK\b)")
_ON_THE_PAGE = frozenset({Kind.ACTION, Kind.LYRIC, Kind.CENTERED})


class IntercutLine(NamedTuple):
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


def intercut_lines(script: Screenplay) -> Iterator[IntercutLine]:
    """The lines that say so, in order."""
    last = _last_lines(script)
    headings = headings_of(script)
    told = {one.first_line: settings for one, settings in zip(headings, settings_by_heading(headings), strict=True)}
    for element in script.elements:
        scene = script.scene_of[element.first_line - 1]
        if isinstance(element, Heading):
            text = plain(element.printed)
            if says := _says(text, anywhere=True):
                several = len(told[element.first_line]) > 1
                says = folded(text) if len(setting_fields(element.place)) > 1 else says
                found = IntercutLine(scene, element.first_line, says, is_heading=True, has_both=several)
                yield found._replace(is_nowhere=several or is_nowhere(element))
        elif isinstance(element, Block) and scene and element.kind in {Kind.ACTION, Kind.TRANSITION}:
            for line in element.lines:
                text = plain(line)
                if says := _says(text, anywhere=text.isupper()):
                    is_doubtful = not text.isupper() and not _OF_THE_CUT.search(says)
                    is_last = line.line >= last[scene]
                    yield IntercutLine(scene, line.line, says, is_last=is_last, is_doubtful=is_doubtful)


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
    says = folded(text[found.start() :])
    end = _SENTENCE_END.search(says)
    return "" if _ENDS.search(text.upper()) else says[: end.start()] if end else says


def folded(text: str) -> str:
    """A text in capitals, with single spaces and straight apostrophes."""
    return " ".join(text.upper().replace("’", "'").split())


def scene_numbers(says: str, known: Container[str]) -> list[tuple[str, str]]:
    """The numbers of scenes in what a line says, each as the first and the last that it stands for: `12, 14-16` is 12
    to 12 and 14 to 16, unless 14-16 is `known` as the number of one."""
    says = " ".join(says.replace("#", "").split())
    return [each for scenes in _SCENES.finditer(says) for each in _listed(says, scenes.end(), known)]


def _listed(says: str, at: int, known: Container[str]) -> list[tuple[str, str]]:
    """The numbers of one list, from where it begins."""
    found: list[tuple[str, str]] = []
    is_last = False
    while number := _number_at(says, at, known):
        if _HOUR.match(says, at + len(number)):
            break
        first = found.pop()[0] if is_last else number
        found.append((first.rstrip("."), number.rstrip(".")))
        then = _THEN.match(says, at + len(number))
        if not then:
            break
        at, is_last = then.end(), _UP_TO.fullmatch(then[0]) is not None
    return found


def _number_at(says: str, at: int, known: Container[str]) -> str:
    for pattern in (_NUMBER_WITH_DASHES, _NUMBER):
        number = pattern.match(says, at)
        if number and (pattern is _NUMBER or number[0] in known):
            return number[0]
    return ""
