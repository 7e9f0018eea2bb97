"""Story days, proposed and set."""

from __future__ import annotations

import pytest

from screenplay import lay_out, parse
from screenplay.breakdown import SceneNeeds, break_down, story_days


def scenes_of(*times: str) -> tuple[SceneNeeds, ...]:
    return break_down(lay_out(parse("\n\n".join(f"INT. HALL - {time}\n\nRain." for time in times))))


@pytest.mark.parametrize(
    ("times", "days"),
    [
        ([], ()),
        (["DAY", "NIGHT", "DAY"], (1, 1, 2)),
        (["NIGHT", "CONTINUOUS", "LATER", "DAWN", "DAY"], (1, 1, 1, 2, 2)),
        (["DAY", "DAY", "DUSK", "DUSK"], (1, 1, 1, 1)),
        (["NIGHT", "SOMETIME", "MORNING"], (1, 1, 2)),
        (["SOMETIME", "NIGHT"], (1, 1)),
    ],
)
def test_a_new_day_is_proposed_where_the_time_of_day_goes_back(times: list[str], days: tuple[int, ...]) -> None:
    assert story_days(scenes_of(*times)) == days


def test_the_scenes_behind_one_that_was_set_go_on_from_there() -> None:
    scenes = scenes_of("DAY", "NIGHT", "DAY", "NIGHT", "DAY")
    assert story_days(scenes, {2: 7, 4: 3}) == (1, 7, 8, 3, 4)
