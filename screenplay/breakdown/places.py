"""The places that a scene's heading names, and what each may be called elsewhere."""

from __future__ import annotations

import itertools
import re
from collections import defaultdict
from typing import TYPE_CHECKING, NamedTuple

from screenplay.fountain import DASHES, setting_places

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from screenplay.model import Heading

PARTED = " - "
INTERCUT = re.compile(r"\bINTERCUT(?:S|TING)?\b", re.IGNORECASE)
# A dash parts them, and so does a parenthesis, within which none does: CANAL (FLASHBACK - 1974).
_CUT_OR_PARENTHESIS = re.compile(rf"(?<!\s)\s++(?:[{DASHES}]++\s++|(?=\())|[()]")


class ScenePlace(NamedTuple):
    """A place of a scene: `name` is the first part of it as a heading has it, and `within` the rest: FERRY and ENGINE
    ROOM. `light` is when it is there: day, night, dawn, dusk or "" for not said; where that is taken from another
    scene, `light_from` is the ordinal of the one whose heading says it."""

    name: str
    within: str
    light: str = ""
    light_from: int | None = None

    @property
    def key(self) -> str:
        """What two spellings of one place share."""
        return " ".join(self.name.casefold().replace("’", "'").split())

    @property
    def whole(self) -> str:
        """Its name and the rest together."""
        return PARTED.join(filter(None, (self.name, self.within)))


def place_of(told: str) -> ScenePlace:
    """A place as a heading has it, taken apart; that it is intercut is no part of it."""
    name, *within = place_parts(told)
    return ScenePlace(name, PARTED.join(part for part in within if not INTERCUT.match(part)))


def place_parts(told: str) -> Iterator[str]:
    """A place by its parts. Where a parenthesis closes before another opens, what stands before it is within one, or as
    if it were, and parts nothing."""
    cuts: list[tuple[int, int]] = []
    waiting: list[tuple[int, int]] = []
    for found in _CUT_OR_PARENTHESIS.finditer(told):
        if found[0] not in {"(", ")"}:
            waiting.append(found.span())
            continue
        if found[0] == "(":
            cuts += waiting
        waiting = []
    at = 0
    for start, end in (*cuts, *waiting):
        yield told[at:start]
        at = end
    yield told[at:]


def is_nowhere(heading: Heading) -> bool:
    """Whether a heading says INTERCUT and no place of its own, but only those of other scenes, if any."""
    return not heading.setting and INTERCUT.match(heading.place) is not None


def names_of_places(headings: Iterable[Heading]) -> list[tuple[str, ...]]:
    """What the places of each heading may be called: by the first part, and by the rest where no other place has one of
    that name."""
    places = [tuple(map(place_of, setting_places(heading.place))) for heading in headings]
    of_room = _places_with(places)
    return [
        (*(one.name for one in there), *(one.within for one in there if len(of_room[one.within.casefold()]) == 1))
        for there in places
    ]


def _places_with(places: Iterable[Sequence[ScenePlace]]) -> dict[str, set[str]]:
    """The places that have a room of each name."""
    found: dict[str, set[str]] = defaultdict(set)
    for place in itertools.chain.from_iterable(places):
        found[place.within.casefold()].add(place.key)
    return found
