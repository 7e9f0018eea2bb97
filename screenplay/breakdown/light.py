"""When it is light in each scene, by its heading and those before it."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from screenplay.fountain import FOLLOWS_ON, light_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from screenplay.model import Heading


class Light(NamedTuple):
    """When it is in a scene: day, night, dawn, dusk, or "" for not said; and the ordinal of the scene whose heading
    says so, None where its own does or none."""

    light: str
    taken_from: int | None


def says_its_light(time: str) -> bool:
    """Whether a heading's time of day says by itself when it is, as NIGHT does, and CONTINUOUS does not."""
    return light_of(time) not in {"", FOLLOWS_ON}


def lights_by_heading(headings: Iterable[Heading], known: Mapping[int, Light]) -> list[Light]:
    """When it is in each scene. CONTINUOUS, LATER and SAME take it from the scene before (common practice), and past
    those whose headings have no time of day at all. `known` has those of scenes, by ordinal, of which their headings
    are not asked."""
    found: list[Light] = []
    last = Light("", None)
    for ordinal, heading in enumerate(headings, start=1):
        light = light_of(heading.time)
        if ordinal in known:
            found.append(known[ordinal])
        elif light != FOLLOWS_ON:
            found.append(Light(light, None))
        else:
            found.append(last)
        if heading.time or found[-1].light:
            origin = ordinal if found[-1].taken_from is None and found[-1].light else found[-1].taken_from
            last = Light(found[-1].light, origin)
    return found
