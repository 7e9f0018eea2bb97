"""Which places are one, however headings name them, and which look as if they were."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay.breakdown.places import PARTED, place_of, place_parts
from screenplay.fountain import same_name
from screenplay.names import NAME_WITHIN, SAME_LETTERS, AlikeNames, SaidNames, alike_names, why_alike

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from screenplay.breakdown.places import ScenePlace

_MOST_PARTS = 8  # of a place that are looked at


class PlaceNames(SaidNames):
    """Which places are one, as a writer has it. A place is named with what it is within before it, as headings do:
    VILLAGE HALL, or BRACKWATER - VILLAGE HALL. What is said of it holds for all that is within it."""

    __slots__ = ()

    def spelled(self, name: str) -> str:
        """A place as it is kept, whatever dashes part it."""
        return PARTED.join(_parts(name))

    def name_of(self, name: str) -> str:
        """What a place goes by. What is said of BRACKWATER - VILLAGE HALL comes before what is of BRACKWATER."""
        said = self._name_by_spelling
        for _ in _parts(name)[:_MOST_PARTS] if said else ():  # each time, one at least of its own is done with
            parts = _parts(name)
            ends = range(min(len(parts), _MOST_PARTS), 0, -1)
            heads = ((same_name(PARTED.join(parts[:end])), parts[end:]) for end in ends)
            named = next((PARTED.join([said[head], *rest]) for head, rest in heads if head in said), "")
            if not named:
                break
            name = named
        return name

    def are_one(self, one: str, other: str) -> bool:
        """Whether by their names one place is the other, or within it."""
        pairs = zip(_parts(one), _parts(other), strict=False)
        return all(same_name(part) == same_name(its) for part, its in pairs)

    def named(self, place: ScenePlace) -> ScenePlace:
        """A scene's place, by the name that it goes by."""
        name = self.name_of(place.whole)
        return place if name == place.whole else place_of(name)._replace(light=place.light, light_from=place.light_from)

    def _merged_as(self, name: str) -> str:
        *around, last = _parts(name)
        return PARTED.join([self.name_of(PARTED.join(around)), last] if around else [last])


AS_HEADED = PlaceNames()


def every_place(places: Iterable[ScenePlace]) -> list[str]:
    """The names of places, and of what they are within, each once, in the order of the alphabet."""
    return sorted({same_name(name): name for name in _with_what_they_are_within(places)}.values())


def alike_places(places: Iterable[ScenePlace], names: PlaceNames = AS_HEADED) -> tuple[AlikeNames, ...]:
    """Places that may be one and of which nothing was said: one that stands by itself and within another place (VILLAGE
    HALL, and BRACKWATER - VILLAGE HALL), the same letters with other spaces, a name with more words about it (HALL, and
    VILLAGE HALL). Found by letters, not by meaning: of two kitchens too. They are told by the names that they
    go by."""
    return alike_names(_with_what_they_are_within(map(names.named, places)), names, _why_alike)


def _with_what_they_are_within(places: Iterable[ScenePlace]) -> Iterator[str]:
    for place in places:
        parts = _parts(place.whole)[:_MOST_PARTS]
        yield from (PARTED.join(parts[:end]) for end in range(1, len(parts) + 1) if place.name)


def _why_alike(one: str, other: str) -> str:
    short, long = sorted((_parts(one), _parts(other)), key=len)
    if len(long) == 1:
        return why_alike(one, other)
    is_within = len(short) == 1 and short != long[:1] and why_alike(short[0], long[-1]) == SAME_LETTERS
    return NAME_WITHIN if is_within else ""


def _parts(name: str) -> list[str]:
    return list(place_parts(" ".join(name.split())))
