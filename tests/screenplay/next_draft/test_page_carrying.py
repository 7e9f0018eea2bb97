"""Locked pages from one draft to the next, on cases worked out by hand.

On Letter paper a heading and 26 paragraphs of one line fill page 1, and 27 paragraphs any other: a paragraph takes two
of its 54 lines. So pages 1 to 3 begin with the heading, Line 27 and Line 54.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from screenplay import PageSetting, compare, paginate, parse
from screenplay.next_draft import carry_pages
from screenplay.page import SceneNumber, beginnings, page_swap

if TYPE_CHECKING:
    from collections.abc import Sequence

    from screenplay.page import Layout


def lines(first: int, last: int) -> list[str]:
    return [f"Line {number}." for number in range(first, last + 1)]


def script(*parts: str | Sequence[str]) -> str:
    paragraphs = [paragraph for part in parts for paragraph in ([part] if isinstance(part, str) else part)]
    return "\n\n".join(["INT. SHED - NIGHT", *paragraphs]) + "\n"


WHOLE = script(lines(1, 80))


def laid_out(before: str, *drafts: str) -> list[Layout]:
    """The first draft, whose pages are locked as they are, and those after it."""
    layouts = [paginate(parse(before))]
    for text in drafts:
        locked = carry_pages(beginnings(layouts[-1]), compare(before, text))
        layouts.append(paginate(parse(text), PageSetting(locked_pages=locked)))
        before = text
    return layouts


def begins(layout: Layout) -> dict[str, str]:
    """What each page begins with."""
    return {page.label: page.rows[0].text.strip() for page in layout.pages}


AS_LOCKED = {"1": "INT. SHED - NIGHT", "2": "Line 27.", "3": "Line 54."}


def test_pages_of_the_same_text_are_the_same() -> None:
    before, after = laid_out(WHOLE, WHOLE)
    assert begins(before) == begins(after) == AS_LOCKED


def test_a_scene_that_stays_as_it_is_keeps_its_length_however_its_pages_fill() -> None:
    """The last scene is the row of its heading, 20 lines with a blank one before each, and what stands before a next
    heading: 43 rows of 54 are 6.4 eighths. Of 6 lines it is 15 rows, which are 2.2."""
    for last, eighths in ((20, 6), (6, 2)):
        end = ["EXT. PIER - DAY", *lines(51, 50 + last)]
        _, same, longer, followed = laid_out(
            script(lines(1, 50), end),
            script(lines(1, 50), end),
            script(lines(1, 40), lines(90, 100), lines(41, 50), end),
            script(lines(1, 10), end, "EXT. SEA - DAY", "===", "Waves."),
        )
        assert [layout.scene_eighths[1] for layout in (same, longer, followed)] == [eighths] * 3
        assert followed.scene_eighths[2] == 1


def test_what_a_short_locked_page_leaves_blank_is_no_scene_s() -> None:
    """Page 1 keeps ten lines of 26: 21 rows, and 27 lines of page 2 with the blank ones before them, are 75 rows."""
    _, shrunk = laid_out(script(lines(1, 53)), script(lines(1, 10), lines(27, 53)))
    assert len(shrunk.pages[0].rows) == 21
    assert shrunk.scene_eighths == (11,)  # with the two blank rows before a next heading, 77 of 54 are 11.4 eighths


def test_a_page_that_outgrows_its_paper_runs_over() -> None:
    grown = script(lines(1, 40), "New 1.", "New 2.", lines(41, 80))
    before, after = laid_out(WHOLE, grown)
    assert begins(after) == AS_LOCKED | {"2A": "Line 52."}
    assert page_swap(before, after) == (("2",), ("2", "2A"))


def test_a_page_that_shrank_stays_short() -> None:
    before, after = laid_out(WHOLE, script(lines(1, 30), lines(50, 80)))
    assert begins(after) == AS_LOCKED
    assert [len(page.rows) for page in after.pages] == [53, 15, 53]
    assert page_swap(before, after) == (("2",), ("2",))


def test_a_page_added_in_the_last_draft_begins_where_it_began_too() -> None:
    grown = script(lines(1, 40), "New 1.", "New 2.", lines(41, 80))
    again = script(lines(1, 30), "More.", lines(31, 40), "New 1.", "New 2.", lines(41, 80))
    shrunk = script(lines(1, 30), lines(41, 80))
    _, _, third, fourth = laid_out(WHOLE, grown, again, shrunk)
    assert begins(third) == AS_LOCKED | {"A2A": "Line 51.", "2A": "Line 52."}
    assert begins(fourth) == AS_LOCKED | {"A2A": "Line 51.", "2A": "Line 52."}


def test_a_page_of_which_all_was_cut_runs_together_with_the_next() -> None:
    before, after = laid_out(WHOLE, script(lines(1, 26), lines(54, 80)))
    assert begins(after) == {"1": "INT. SHED - NIGHT", "2-3": "Line 54."}
    assert page_swap(before, after) == (("2", "3"), ("2-3",))


def test_the_last_page_runs_together_with_the_one_before_it() -> None:
    before, after = laid_out(WHOLE, script(lines(1, 53)))
    assert begins(after) == {"1": "INT. SHED - NIGHT", "2-3": "Line 27."}
    assert page_swap(before, after) == (("2", "3"), ("2-3",))


def test_pages_that_run_together_grow_as_one() -> None:
    cut = script(lines(1, 26), lines(54, 80))
    grown = script(lines(1, 26), lines(54, 80), "New.")
    assert begins(laid_out(WHOLE, cut, grown)[-1]) == {"1": "INT. SHED - NIGHT", "2-3": "Line 54.", "3A": "New."}


def test_where_the_beginning_of_a_page_was_cut_it_begins_with_what_is_left() -> None:
    _, after = laid_out(WHOLE, script(lines(1, 26), lines(29, 80)))
    assert begins(after) == AS_LOCKED | {"2": "Line 29."}


def test_what_was_written_for_the_beginning_of_a_page_begins_it() -> None:
    _, after = laid_out(WHOLE, script(lines(1, 26), "A dog barks twice at the tide.", lines(29, 80)))
    assert begins(after) == AS_LOCKED | {"2": "A dog barks twice at the tide."}


def test_what_is_added_between_two_pages_stands_on_the_first() -> None:
    _, after = laid_out(WHOLE, script(lines(1, 26), "New.", lines(27, 80)))
    assert begins(after) == AS_LOCKED | {"1A": "New."}


def test_what_is_added_before_page_1_stands_on_a_page_before_it() -> None:
    _, after = laid_out(WHOLE, f"EXT. SEA - DAWN\n\nSwell.\n\n{WHOLE}")
    assert begins(after) == {"A1": "EXT. SEA - DAWN"} | AS_LOCKED


def test_a_page_does_not_begin_with_the_transition_behind_what_went() -> None:
    before = script(lines(1, 26), "The rope is gone.", "CUT TO:", lines(27, 80))
    _, after = laid_out(before, script(lines(1, 26), "CUT TO:", lines(27, 80)))
    assert begins(after)["2"] == "Line 27."


@pytest.mark.parametrize("added", ["", "Nobody speaks, and the water is very high now. "])
def test_a_page_that_began_within_a_speech_does_so_still(added: str) -> None:
    words = " ".join(f"word{number}" for number in range(120))
    before = script(lines(1, 24), f"NELL\n{words}")
    old, new = laid_out(before, before.replace("NELL\n", f"NELL\n{added}"))
    assert [page.rows[1].text for page in old.pages[1:]] == [
        page.rows[1].text for page in new.pages if page.label == "2"
    ]
    assert begins(new)["2"] == "NELL (CONT'D)"
    assert page_swap(old, new).into == (("1", "1A") if added else ())


def test_a_page_begins_with_its_cue_where_nothing_was_said_before_it_any_more() -> None:
    words = " ".join(f"word{number}" for number in range(120))
    before = script(lines(1, 24), f"NELL\nFirst.\nSecond.\n{words}")
    old = paginate(parse(before))
    said = next(row.text.split()[0] for row in old.pages[1].rows if row.text.strip().startswith("word"))
    after = before.replace("First.\nSecond.\n", "").replace(words[: words.index(f"{said} ")], "")
    assert begins(laid_out(before, after)[1]) == {"1": "INT. SHED - NIGHT", "2": "NELL"}


def test_paragraphs_joined_over_the_end_of_a_page_are_parted_where_it_ended() -> None:
    before = script(lines(1, 26), "It rains.", "It blows.", lines(29, 80))
    joined = script(lines(1, 25), "Line 26. It rains.", "It blows.", lines(29, 80))
    _, after = laid_out(before, joined)
    assert begins(after)["2"] == "It rains."
    assert after.pages[0].rows[-1].text == "Line 26."


MANY_SCENES = "\n\n".join(f"INT. ROOM {number} - DAY\n\nLine {number}." for number in range(1, 31)) + "\n"
NUMBERS = tuple(SceneNumber(str(number), number) for number in range(1, 31))


def test_a_scene_cut_under_the_lock_begins_its_page_as_omitted() -> None:
    old = paginate(parse(MANY_SCENES), PageSetting(scene_numbers=NUMBERS))
    first_on_2 = int(old.pages[1].rows[0].number or 0)
    text = MANY_SCENES.replace(f"INT. ROOM {first_on_2} - DAY\n\nLine {first_on_2}.\n\n", "")
    numbers = tuple(
        SceneNumber(number, None if scene == first_on_2 else scene - (scene > first_on_2))
        for number, scene in ((number, ordinal or 0) for number, ordinal in NUMBERS)
    )
    locked = carry_pages(beginnings(old), compare(MANY_SCENES, text), NUMBERS, numbers)
    new = paginate(parse(text), PageSetting(scene_numbers=numbers, locked_pages=locked))
    assert (new.pages[1].label, new.pages[1].rows[0].text, new.pages[1].rows[0].number) == (
        "2",
        "OMITTED",
        str(first_on_2),
    )
    assert page_swap(old, new) == (("2",), ("2",))
    again = carry_pages(beginnings(new), compare(text, MANY_SCENES), numbers, NUMBERS)
    back = paginate(parse(MANY_SCENES), PageSetting(scene_numbers=NUMBERS, locked_pages=again))
    assert [page.rows for page in back.pages] == [page.rows for page in old.pages]


def test_a_scene_moved_to_another_page_leaves_its_own_to_what_is_left() -> None:
    before = f"{WHOLE}\nEXT. PIER - DAY\n\nFog over the posts.\n\nA bell, far out.\n"  # it begins page 4
    pier = before[before.index("EXT. PIER") :]
    after = f"{pier}\n{WHOLE}"
    _, moved = laid_out(before, after)
    assert begins(moved) == {"A1": "EXT. PIER - DAY", "1": "INT. SHED - NIGHT", "2": "Line 27.", "3-4": "Line 54."}
