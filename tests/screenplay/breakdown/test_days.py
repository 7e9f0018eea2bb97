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
        (["NIGHT", "DAY (FLASHBACK)", "NIGHT"], (1, None, 1)),
        (["NIGHT", "DAY - FLASHBACK - 1994", "DAY - END OF FLASHBACK"], (1, None, 2)),
        (["DAY", "NIGHT - HANNE'S DREAM", "CONTINUOUS", "DAY", "NIGHT (MEMORY)", "DAY"], (1, None, None, 1, None, 1)),
        (["NIGHT", "DAY (NOT A DREAM)"], (1, 2)),
        (["NIGHT", "DAY (DREAM)", "LATER", "MOMENTS LATER", "SAME", "NIGHT"], (1, None, None, None, None, 1)),
        (["NIGHT", "DAY (FLASHBACK)", "CONTINUOUS (BACK TO PRESENT)", "CONTINUOUS", "DAY"], (1, None, 1, 1, 2)),
        (["NIGHT", "DAY (FLASHBACK)", "LATER (END OF FLASHBACK)", "LATER", "DAY"], (1, None, 1, 1, 2)),
        (["NIGHT", "DAY (FLASHBACK)", "BACK TO PRESENT - CONTINUOUS", "SAME"], (1, None, 1, 1)),
        (["NIGHT", "DAY (FLASHBACK)", "NIGHT", "DAY (BACK TO FLASHBACK)", "LATER"], (1, None, 1, None, None)),
    ],
)
def test_a_new_day_is_proposed_where_the_time_of_day_goes_back(times: list[str], days: tuple[int, ...]) -> None:
    assert story_days(scenes_of(*times)) == days


@pytest.mark.parametrize(
    "heading",
    [
        "INT. BARN (FLASHBACK) - DAY",
        "INT. BARN - FLASHBACK - DAY",
        "INT. BARN - FLASHBACK 1998 - DAY",
        "INT. BARN (FLASHBACK, 1998) - DAY",
        "INT. BARN (1998 FLASHBACK) - DAY",
        "INT. BARN - MARA'S DREAM - DAY",
        "INT. BARN (OLD MARA’S FLASHBACK) - DAY",
        "INT. BARN - DAY FLASHBACK",
        "INT. BARN (IN FLASHBACK) - DAY",
        "INT. BARN / FLASHBACK - DAY",
        "INT. FLASHBACK - BARN - DAY",
        ".FLASHBACK 1998",
        ".DREAM SEQUENCE",
    ],
)
def test_a_memory_may_be_marked_before_its_time_of_day(heading: str) -> None:
    """Common practice has no single form."""
    text = f"INT. HALL - NIGHT\n\nRain.\n\n{heading}\n\nRain.\n\nINT. DREAM FACTORY - NIGHT\n\nRain.\n"
    assert story_days(break_down(lay_out(parse(text)))) == (1, None, 1)


@pytest.mark.parametrize(
    "heading",
    [
        "INT. FANTASY - DAY",
        "INT. MEMORIES - DAY",
        "INT. MEMORIES - BACK ROOM - DAY",
        "INT. BARN - MEMORY SHOP - DAY",
        "INT. SHOP - DAY (MEMORY SHOP)",
        "INT. BARN (NOT A DREAM) - DAY",
        "INT. BARN (END OF MARA'S DREAM) - DAY",
    ],
)
def test_a_name_with_the_word_in_it_is_no_memory(heading: str) -> None:
    text = f"INT. HALL - NIGHT\n\nRain.\n\n{heading}\n\nRain.\n"
    assert story_days(break_down(lay_out(parse(text)))) == (1, 2)


@pytest.mark.parametrize(
    "remark",
    [
        "FLASHBACK - TEN YEARS BEFORE",
        "FLASHBACK, THE NIGHT BEFORE",
        "FLASHBACK, AFTER THE FIRE",
        "FLASHBACK - NOT SEEN BEFORE",
        "FLASHBACK - NOT A DREAM",
        "FLASHBACK - END OF SUMMER",
        "BACK TO FLASHBACK",
        "DREAM CONTINUES",
        "MEMORY OF SUMMER",
        "HER DREAM, 1998",
    ],
)
def test_what_else_is_said_of_a_memory_leaves_it_one(remark: str) -> None:
    """Common practice: behind the mark stands when it was, in any words."""
    assert story_days(scenes_of("NIGHT", f"DAY ({remark})", "NIGHT")) == (1, None, 1)


@pytest.mark.parametrize(
    "remark",
    [
        "AFTER THE FLASHBACK",
        "END OF DREAM",
        "END FLASHBACK",
        "END OF MARA'S DREAM",
        "OUT OF THE FLASHBACK",
        "BACK FROM HER DREAM",
        "NO LONGER A DREAM",
        "INTERCUT WITH FLASHBACK",
        "FLASHBACK ENDS",
        "FLASHBACK - END",
        "DREAM'S END",
    ],
)
def test_a_memory_is_over_where_its_mark_is_said_to_be(remark: str) -> None:
    """Common practice has no single form."""
    assert story_days(scenes_of("NIGHT", f"DAY ({remark})")) == (1, 2)
    assert story_days(scenes_of("NIGHT", "DAY (FLASHBACK)", f"LATER ({remark})", "LATER")) == (1, None, 1, 1)


def test_a_memory_that_was_set_moves_no_other_scene() -> None:
    assert story_days(scenes_of("NIGHT", "DAY (FLASHBACK)", "NIGHT", "DAY"), {2: 7}) == (1, 7, 1, 2)


def test_the_scenes_behind_one_that_was_set_go_on_from_there() -> None:
    scenes = scenes_of("DAY", "NIGHT", "DAY", "NIGHT", "DAY")
    assert story_days(scenes, {2: 7, 4: 3}) == (1, 7, 8, 3, 4)
