"""To find names that look alike takes time in proportion to how many there are, and how long: one of many takes at most
twice as long as one of few.

Processor time of the search alone.
"""

from __future__ import annotations

import pytest

from screenplay.breakdown import PlaceNames, alike_places
from screenplay.breakdown.places import place_of
from tests.bench.stopwatch import least_growth

FEW, MORE = 200, 10  # places; times
MOST = 2.0


@pytest.mark.parametrize("place", ["TOWN {at} - HALL {at}", "HALL {at}", "TOWN - HALL {at}"])
def test_time_is_in_proportion_to_how_many_places_there_are(place: str) -> None:
    few, many = ([place_of(place.format(at=at)) for at in range(places)] for places in (FEW, FEW * MORE))
    alike_places(few)

    growth = least_growth(lambda: alike_places(many), lambda: alike_places(few), longer=MORE, enough=MOST)
    assert growth <= MOST


def test_time_is_in_proportion_to_how_many_pairs_are_kept_apart() -> None:
    few, many = (
        (
            [place_of(place.format(at)) for at in range(places) for place in ("TOWN {0} - HALL {0}", "HALL {0}")],
            PlaceNames(apart=frozenset(frozenset({f"TOWN {at} - HALL {at}", f"HALL {at}"}) for at in range(places))),
        )
        for places in (FEW, FEW * MORE)
    )
    assert alike_places(*few) == ()

    growth = least_growth(lambda: alike_places(*many), lambda: alike_places(*few), longer=MORE, enough=MOST)
    assert growth <= MOST


def test_time_is_in_proportion_to_how_many_parts_a_place_has() -> None:
    names = PlaceNames().with_one("TOWN", "CITY")
    few, many = ([place_of(" - ".join(["TOWN"] * parts))] for parts in (FEW, FEW * MORE))

    growth = least_growth(lambda: alike_places(many, names), lambda: alike_places(few, names), longer=MORE, enough=MOST)
    assert growth <= MOST
