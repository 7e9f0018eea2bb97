"""A script as cautions are looked for in it: for each scene its heading, its action as sentences, and who speaks.

Parentheticals are action. What is sung or centred, and transitions, are not searched.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from screenplay.breakdown.scene_places import scene_places
from screenplay.breakdown.sentences import sentences_of
from screenplay.breakdown.unreal import seeming
from screenplay.fountain import plain
from screenplay.model import Block, Heading, Kind, Speech

if TYPE_CHECKING:
    from collections.abc import Iterator

    from screenplay.breakdown.sentences import Sentence
    from screenplay.breakdown.unreal import Seeming
    from screenplay.model import Printed, Screenplay

_INDOORS = frozenset({"INT."})
_OUTDOORS = frozenset({"EXT.", "EST."})


class Told(NamedTuple):
    """A sentence, the source line it stands on, and what in it only seems."""

    line: int
    sentence: Sentence
    seeming: Seeming


@dataclass(slots=True)
class SceneLines:
    """What a scene is searched by. `heading` is None for what stands before the first. `is_by_night` says that it is
    night at one of its places."""

    heading: Heading | None = None
    is_by_night: bool = False
    action: list[Told] = field(default_factory=list)
    spoken: list[Printed] = field(default_factory=list)
    speeches: list[Speech] = field(default_factory=list)

    @property
    def setting(self) -> str:
        return self.heading.setting if self.heading else ""

    @property
    def is_outdoors(self) -> bool:
        """Whether any of it is, or nobody says."""
        return self.setting not in _INDOORS

    @property
    def is_indoors(self) -> bool:
        """Whether any of it is, or nobody says."""
        return self.setting not in _OUTDOORS


def scene_lines(script: Screenplay) -> list[SceneLines]:
    """Every scene, in order, after what stands before the first."""
    found = [SceneLines()]
    places = iter(scene_places(script))
    for element in script.elements:
        if isinstance(element, Heading):
            found.append(SceneLines(element, any(place.light == "night" for place in next(places))))
        elif isinstance(element, Speech):
            found[-1].speeches.append(element)
            for line in element.lines:
                if line.kind is Kind.PARENTHETICAL:
                    found[-1].action += _told(line.line, plain(line))
                elif line.kind is Kind.DIALOGUE:
                    found[-1].spoken.append(line)
        elif isinstance(element, Block) and element.kind is Kind.ACTION:
            for line in element.lines:
                found[-1].action += _told(line.line, plain(line))
    return found


def _told(line: int, text: str) -> Iterator[Told]:
    before: Sentence | None = None
    for sentence in sentences_of(text):
        yield Told(line, sentence, seeming(sentence, before))
        before = sentence
