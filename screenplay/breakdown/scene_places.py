"""Where each scene is, and when it is there: as its heading says, or where that is an INTERCUT and does not, as those
of the scenes say that it cuts together."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay.breakdown.cast_by_scene import cast_by_scene
from screenplay.breakdown.intercuts import intercuts_of
from screenplay.breakdown.light import Light, lights_by_heading, says_its_light
from screenplay.breakdown.places import INTERCUT, ScenePlace, is_nowhere, place_of, settings_by_heading
from screenplay.fountain import heading_fields, light_of
from screenplay.script import characters_of, headings_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from screenplay.breakdown.intercuts import Intercut
    from screenplay.fountain import HeadingFields
    from screenplay.model import Heading, Screenplay


def scene_places(
    script: Screenplay, intercuts: Mapping[int, Sequence[Intercut]] | None = None
) -> list[tuple[ScenePlace, ...]]:
    """The places of each scene, in order: one, or those of the settings in its heading. The heading of an INTERCUT that
    has none is at those of the scenes that it cuts together, in the order in which it names them; where it does not say
    which, its one place has no name.

    The light that a heading says behind its places is that of each of them, unless one has its own. At the ends of an
    intercut of which it says none, it is when it is in their scenes. `intercuts` are found where they are not given.
    """
    headings = headings_of(script)
    found = _by_heading(headings, {})
    of_ends = {
        ordinal: _by_ends(headings[ordinal - 1], found[ordinal - 1], _places_of_ends(ends, found))
        for ordinal, ends in _ends(script, headings, intercuts).items()
    }
    if of_ends:
        known = {ordinal: Light(places[0].light, places[0].light_from) for ordinal, places in of_ends.items()}
        found = _by_heading(headings, known)
    return [of_ends.get(ordinal, places) for ordinal, places in enumerate(found, start=1)]


def lights(script: Screenplay) -> tuple[str, ...]:
    """When it is in each scene, at the first of its places: day, night, dawn, dusk, or "" for not said."""
    return tuple(places[0].light for places in scene_places(script))


def _by_heading(headings: Sequence[Heading], known: Mapping[int, Light]) -> list[tuple[ScenePlace, ...]]:
    lights = lights_by_heading(headings, known)
    told = settings_by_heading(headings)
    return [tuple(_as_told(*each)) for each in zip(headings, told, lights, strict=True)]


def _as_told(heading: Heading, told: Sequence[HeadingFields], when: Light) -> Iterator[ScenePlace]:
    """The places of a heading by itself, which are those of its settings."""
    if is_nowhere(heading) and len(told) == 1:
        yield ScenePlace("", "", *when)
        return
    for parts in told:
        light = Light(light_of(parts.time), None) if says_its_light(parts.time) else when
        yield place_of(parts.place)._replace(light=light.light, light_from=light.taken_from)


def _ends(
    script: Screenplay, headings: Sequence[Heading], intercuts: Mapping[int, Sequence[Intercut]] | None
) -> dict[int, tuple[int, ...]]:
    """The scenes that the headings of scenes cut together, by the ordinal of those that do."""
    if not any(INTERCUT.search(heading.printed.text) for heading in headings):
        return {}
    if intercuts is None:
        intercuts = intercuts_of(script, cast_by_scene(script, [one.name for one in characters_of(script)]))
    return {
        ordinal: one.scenes
        for ordinal, found in intercuts.items()
        for one in found
        if one.scenes and ordinal and one.line == headings[ordinal - 1].first_line
    }


def _places_of_ends(ends: Sequence[int], places: Sequence[tuple[ScenePlace, ...]]) -> list[ScenePlace]:
    """The places of scenes that are cut together, with when it is there by their headings, each once."""
    found: dict[tuple[str, str, str], ScenePlace] = {}
    for end in ends:
        for place in places[end - 1]:
            if place.name:
                light_from = (place.light_from or end) if place.light else None
                found.setdefault(place[:3], place._replace(light_from=light_from))
    return list(found.values())


def _by_ends(heading: Heading, own: tuple[ScenePlace, ...], there: Sequence[ScenePlace]) -> tuple[ScenePlace, ...]:
    """The places of a heading that cuts together scenes which are there."""
    says_it = says_its_light(heading.time)
    if own[0].name:
        return own if says_it else tuple(_lit_by(there, place) for place in own)
    if says_it and not heading_fields(heading.place).time:
        there = [ScenePlace(place.name, place.within, *own[0][2:]) for place in there]
    return tuple(dict.fromkeys(there)) or own


def _lit_by(there: Sequence[ScenePlace], place: ScenePlace) -> ScenePlace:
    """A place of a heading that says not when it is at all of them, by the same place elsewhere."""
    is_said = place.light and place.light_from is None
    return place if is_said else next((one for one in there if one[:2] == place[:2] and one.light), place)
