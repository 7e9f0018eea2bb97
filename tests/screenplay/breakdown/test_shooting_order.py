"""A proposed order of shooting, and what an order costs."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from screenplay import lay_out, parse
from screenplay.breakdown import SceneNeeds, break_down, moves_of, propose_order
from screenplay.breakdown.shooting_order import Moves


def scenes_of(*headings: str) -> tuple[SceneNeeds, ...]:
    return break_down(lay_out(parse("\n\n".join(f"INT. {heading}\n\nRain." for heading in headings))))


def test_places_stay_together_and_within_each_the_light() -> None:
    scenes = scenes_of("A - DAY", "B - NIGHT", "A - NIGHT", "B - DAY", "A - DAY", "C - NIGHT")
    order = propose_order(scenes)
    assert order.scenes == (1, 5, 3, 6, 2, 4)  # A by day and by night, C has only night, B begins with it
    assert order.moves == Moves(places=2, lights=2)
    assert order.moves_in_script_order == Moves(places=5, lights=3)


def test_rooms_of_one_place_stay_together() -> None:
    assert propose_order(scenes_of("A - HALL - DAY", "A - ATTIC - DAY", "A - HALL - DAY")).scenes == (1, 3, 2)


def test_a_time_that_no_heading_says_is_no_move() -> None:
    assert moves_of(scenes_of("A - DAY", "A", "A - NIGHT")) == Moves(0, 0)
    assert moves_of(scenes_of("A - DAY", "A - NIGHT")) == Moves(0, 1)
    assert moves_of(()) == Moves(0, 0)


HEADINGS = st.tuples(st.sampled_from("ABCD"), st.sampled_from(["", " - DAY", " - NIGHT", " - DUSK"])).map("".join)


@settings(max_examples=40)
@given(st.lists(HEADINGS, max_size=10))
def test_every_scene_is_in_it_once_and_no_place_is_come_back_to(headings: list[str]) -> None:
    scenes = scenes_of(*headings)
    order = propose_order(scenes)
    assert sorted(order.scenes) == [scene.ordinal for scene in scenes]
    assert order.moves.places == max(len({scene.place_key for scene in scenes}) - 1, 0)
    assert order.moves.places <= order.moves_in_script_order.places
