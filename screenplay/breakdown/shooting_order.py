"""An order of shooting proposed by a plain rule, and what any order costs in moves. No schedule: it knows nothing of
days, people's time, distances or light outdoors."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from screenplay.breakdown.scene_needs import SceneNeeds

ORDER_RULE = "place by place, with day and night together"


@dataclass(frozen=True, slots=True)
class Moves:
    """What an order costs: how often the next scene is at another place, and how often it is at another time of day,
    where both scenes say theirs."""

    places: int
    lights: int


@dataclass(frozen=True, slots=True)
class ShootingOrder:
    """Scenes by ordinal in an order, what it costs, and what the order of the script does."""

    scenes: tuple[int, ...]
    moves: Moves
    moves_in_script_order: Moves


def propose_order(scenes: Sequence[SceneNeeds]) -> ShootingOrder:
    """The scenes by ORDER_RULE. At a place, all scenes of one light are together, beginning with the light before,
    and in that, rooms together, as the script has them. The next place is the first that has scenes of the light
    before, those that have no other ahead; where none has, the first that is left. A scene of several settings is shot
    with the first."""
    places: dict[str, list[SceneNeeds]] = {}
    for scene in scenes:
        places.setdefault(scene.place_key, []).append(scene)
    found: list[SceneNeeds] = []
    while places:
        last = found[-1].light if found else ""
        lights_at = {place: list(dict.fromkeys(scene.light for scene in these)) for place, these in places.items()}
        place = min(places, key=lambda place: (last not in lights_at[place], len(lights_at[place])) if last else (0, 0))
        at_place = places.pop(place)
        for light in sorted(lights_at[place], key=lambda light: bool(last) and light != last):
            found += _rooms_together(scene for scene in at_place if scene.light == light)
    return ShootingOrder(tuple(scene.ordinal for scene in found), moves_of(found), moves_of(scenes))


def moves_of(scenes: Iterable[SceneNeeds]) -> Moves:
    """What it costs to shoot scenes in the order given."""
    pairs = list(pairwise(scenes))
    return Moves(
        places=sum(one.place_key != other.place_key for one, other in pairs),
        lights=sum(one.light != other.light for one, other in pairs if one.light and other.light),
    )


def _rooms_together(scenes: Iterable[SceneNeeds]) -> list[SceneNeeds]:
    rooms: dict[str, list[SceneNeeds]] = {}
    for scene in scenes:
        rooms.setdefault(scene.place_within.casefold(), []).append(scene)
    return [scene for room in rooms.values() for scene in room]
