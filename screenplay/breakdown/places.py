"""The places that a scene's heading names, and what each may be called elsewhere."""

from __future__ import annotations

import itertools
import re
from collections import Counter, defaultdict
from typing import TYPE_CHECKING, NamedTuple

from screenplay.fountain import DASHES, heading_fields, setting_fields

if TYPE_CHECKING:
    from collections.abc import Container, Iterable, Iterator, Mapping, Sequence

    from screenplay.fountain import HeadingFields
    from screenplay.model import Heading

PARTED = " - "
INTERCUT = re.compile(r"\bINTERCUT(?:S|TING)?\b", re.IGNORECASE)
# A dash parts them, and so does a parenthesis, within which none does: CANAL (FLASHBACK - 1974).
_CUT_OR_PARENTHESIS = re.compile(rf"(?<!\s)\s++(?:[{DASHES}]++\s++|(?=\())|[()]")
_MOST_PLACES = 6  # of one setting
_STROKES = re.compile(r"(?<!\s)\s*+/\s*+")
_PARENTHESES = re.compile(r"[()\[\]]")
# What stands behind a stroke and is no place (common practice; from memory).
_NO_PLACES = frozenset(
    {"MOVING", "DRIVING", "TRAVELLING", "TRAVELING", "PARKED", "STATIONARY", "STOPPED", "VARIOUS", "MONTAGE", "DREAM"}
    | {"FLASHBACK", "FLASHFORWARD", "FLASH-FORWARD", "MEMORY", "PRESENT", "PAST", "FANTASY", "NIGHTMARE", "POV"}
    | {"INTERCUT", "INTERCUTTING", "ON", "OFF", "THE", "AND", "UNDERWATER", "SERIES", "OF", "SHOTS", "STOCK", "FOOTAGE"}
)


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
        return folded_name(self.name)

    @property
    def whole(self) -> str:
        """Its name and the rest together."""
        return PARTED.join(filter(None, (self.name, self.within)))


def folded_name(name: str) -> str:
    """A name in small letters, with single spaces and straight apostrophes."""
    return " ".join(name.casefold().replace("’", "'").split())


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


def settings_by_heading(headings: Sequence[Heading]) -> list[list[HeadingFields]]:
    """The settings of each heading, at least one: those that it says, and of one setting its two places where a stroke
    stands between them, KITCHEN / HARBOUR OFFICE.

    They are two where a space stands on either side, or where one without (KITCHEN/OFFICE) parts places that other
    headings have, or one of these from another in an INTERCUT. Behind a room, FERRY HOUSE - KITCHEN / HARBOUR OFFICE,
    what follows is a place where another heading has it for one, or in an INTERCUT; else it may be a room of the same.
    KITCHEN by itself is the room of the only place that has one, if no heading has it for a place; so is what stands
    beside it and no heading has at all: ATTIC, of LANDING / ATTIC. LIVING / DINING ROOM is one where none has LIVING.
    """
    said = [setting_fields(heading.place) for heading in headings]
    alone = [place_of(each.place) for settings in said for each in settings if "/" not in each.place]
    known = _HeadedPlaces({place.key for place in alone}, defaultdict(dict))
    for place in alone:
        known.rooms[folded_name(place.within)].setdefault(place.key, place)
    return [
        settings if len(settings) > 1 or is_nowhere(heading) else _by_strokes(heading, known) or settings
        for heading, settings in zip(headings, said, strict=True)
    ]


class _HeadedPlaces(NamedTuple):
    """The places that headings have, by their keys; and those that have a room of a name, by that."""

    places: Container[str]
    rooms: Mapping[str, dict[str, ScenePlace]]

    def has(self, place: ScenePlace) -> bool:
        return place.key in self.places

    def has_nowhere(self, place: ScenePlace) -> bool:
        """Whether no heading has it, for a place or for a room."""
        return not self.has(place) and not self.rooms.get(place.key)

    def in_full(self, parts: Sequence[HeadingFields], *, with_new: bool) -> list[HeadingFields]:
        """The parts with the place whose rooms they are: each as the room of one alone that is no place itself; all as
        those of one place that has any of them so, if it has the others too, or `with_new` no heading has these."""
        places = [place_of(part.place) for part in parts]
        rooms = [self._only_room(place) for place in places]
        owners = {room.key: room.name for room in rooms if room}
        if len(owners) == 1:
            ((key, name),) = owners.items()
            shared = [self._room_of(key, name, place, or_new=with_new) for place in places]
            rooms = shared if all(shared) else rooms
        return [part._replace(place=room.whole) if room else part for room, part in zip(rooms, parts, strict=True)]

    def _only_room(self, place: ScenePlace) -> ScenePlace | None:
        owners = self.rooms.get(place.key, {})
        return None if place.within or self.has(place) or len(owners) != 1 else next(iter(owners.values()))

    def _room_of(self, key: str, name: str, place: ScenePlace, *, or_new: bool) -> ScenePlace | None:
        """A part as a room of the place that has this key and name; None where it is none."""
        if place.within:
            return None
        new = ScenePlace(name, place.name) if or_new and self.has_nowhere(place) else None
        return self.rooms.get(place.key, {}).get(key, new)


def _by_strokes(heading: Heading, known: _HeadedPlaces) -> list[HeadingFields]:
    """The places of one setting between which strokes stand; none where they may be one."""
    between = _STROKES.findall(heading.place)
    if len(between) >= _MOST_PLACES:
        return []
    parts = [heading_fields(part) for part in _STROKES.split(heading.place)]
    if not between or _PARENTHESES.search(heading.place) or not all(map(_is_a_place, parts)):
        return []
    is_intercut = INTERCUT.search(heading.printed.text) is not None
    first = place_of(parts[0].place)
    told_apart = [known.has(place) or place.within for place in map(place_of, (part.place for part in parts[1:]))]
    if first.within and not (is_intercut or all(told_apart)):
        return []
    if not is_intercut and _may_share_a_noun(parts, known):
        return []
    is_spaced = all(stroke[0].isspace() and stroke[-1].isspace() for stroke in between)
    is_in_and_out = "/" in heading.setting
    parts = known.in_full(parts, with_new=is_spaced and not is_intercut and not is_in_and_out)
    places = [place_of(part.place) for part in parts]
    if not is_spaced and not (any if is_intercut else all)(map(known.has, places)):
        return []
    is_within = any(first.key in known.rooms.get(place.key, {}) for place in places)
    return parts if _are_apart(places) and not is_within else []


def _may_share_a_noun(parts: Sequence[HeadingFields], known: _HeadedPlaces) -> bool:
    """Whether a part may be short for more, by the end of the last: LIVING, of LIVING / DINING ROOM."""
    *others, last = (place_of(part.place) for part in parts)
    most = len(last.name.split()) - 1
    return any(not one.within and len(one.name.split()) <= most and known.has_nowhere(one) for one in others)


def _are_apart(places: Sequence[ScenePlace]) -> bool:
    """Whether no two are the same, nor one a room of another."""
    sharing = Counter(place.key for place in places)
    are_rooms = all(place.within for place in places if sharing[place.key] > 1)
    return are_rooms and len({folded_name(place.whole) for place in places}) == len(places)


def _is_a_place(part: HeadingFields) -> bool:
    """Whether a part may be the name of a place: KITCHEN; not 24, nor MOVING, nor FLASHBACK."""
    words = part.place.upper().split()
    return any(len(word) > 1 and word.isalpha() for word in words) and not _NO_PLACES.issuperset(words)


def names_of_places(headings: Sequence[Heading]) -> list[tuple[str, ...]]:
    """What the places of each heading may be called: by the first part, by both, and by the rest where no other place
    has one of that name."""
    places = [tuple(place_of(setting.place) for setting in settings) for settings in settings_by_heading(headings)]
    of_room = _places_with(places)
    return [
        (
            *(one.name for one in there),
            *(one.whole for one in there if one.within),
            *(one.within for one in there if len(of_room[one.within.casefold()]) == 1),
        )
        for there in places
    ]


def _places_with(places: Iterable[Sequence[ScenePlace]]) -> dict[str, set[str]]:
    """The places that have a room of each name."""
    found: dict[str, set[str]] = defaultdict(set)
    for place in itertools.chain.from_iterable(places):
        found[place.within.casefold()].add(place.key)
    return found
