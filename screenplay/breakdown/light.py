"""When it is light in each scene, by its heading and those before it."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from screenplay.fountain import FOLLOWS_ON, light_of
from screenplay.script import headings_of

if TYPE_CHECKING:
    from screenplay.model import Screenplay


class Light(NamedTuple):
    """When it is in a scene: day, night, dawn, dusk, or "" for not said; and the ordinal of the scene before whose
    heading says so, None where its own does or none."""

    light: str
    taken_from: int | None


def lights(script: Screenplay) -> tuple[str, ...]:
    """When it is in each scene, by its heading: day, night, dawn, dusk, or "" for not said. CONTINUOUS, LATER and SAME
    take it from the scene before (common practice)."""
    return tuple(found.light for found in lights_with_origins(script))


def lights_with_origins(script: Screenplay) -> tuple[Light, ...]:
    """The same, each with where it comes from."""
    found: list[Light] = []
    for ordinal, heading in enumerate(headings_of(script), start=1):
        light = light_of(heading.time)
        if light != FOLLOWS_ON:
            found.append(Light(light, None))
        else:
            before = found[-1] if found else Light("", None)
            origin = ordinal - 1 if before.taken_from is None and before.light else before.taken_from
            found.append(Light(before.light, origin))
    return tuple(found)
