"""When it is light in each scene, by its heading and those before it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay.fountain import FOLLOWS_ON, light_of
from screenplay.script import headings_of

if TYPE_CHECKING:
    from screenplay.model import Screenplay


def lights(script: Screenplay) -> tuple[str, ...]:
    """When it is in each scene, by its heading: day, night, dawn, dusk, or "" for not said. CONTINUOUS, LATER and SAME
    take it from the scene before (common practice)."""
    found: list[str] = []
    for heading in headings_of(script):
        light = light_of(heading.time)
        before = found[-1] if found else ""
        found.append(before if light == FOLLOWS_ON else light)
    return tuple(found)
