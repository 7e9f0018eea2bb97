"""Pages locked as they are, and what is swapped in a printed copy."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from screenplay import PageSetting, PaperSize, paginate, parse
from screenplay.page import (
    TITLE_PAGE,
    LockedPage,
    PageSwap,
    SceneNumber,
    beginnings,
    page_swap,
    pages_with,
    swap_from_first_change,
)
from screenplay.printing import print_pages
from tests.printed_copy import pages_of, swapped
from tests.screenplay.page.test_layout_laws import SCRIPTS
from tests.screenplay.scripts import any_text

LETTER = PageSetting()
copied = st.one_of(SCRIPTS, any_text.map(lambda text: text.replace("\f", "")))  # form feeds part the sheets of a copy
LONG = "INT. SHED - NIGHT\n\n" + "\n\n".join(f"Line {number}." for number in range(1, 81)) + "\n"
SAID = "INT. SHED\n\n" + "Dark.\n\n" * 24 + "NELL\n" + " ".join(f"word{number}" for number in range(80)) + "\n"


def test_a_page_begins_with_a_line() -> None:
    assert beginnings(paginate(parse(LONG))) == (
        LockedPage("1", 1),
        LockedPage("2", LONG[: LONG.index("Line 27.")].count("\n") + 1),
        LockedPage("3", LONG[: LONG.index("Line 54.")].count("\n") + 1),
    )


def test_a_page_may_begin_within_a_line_and_not_with_the_cue_said_again() -> None:
    layout = paginate(parse(SAID))
    second = beginnings(layout)[1]
    assert layout.pages[1].rows[0].text.strip() == "NELL (CONT'D)"
    words = SAID.splitlines()[second.line - 1 if second.line else 0][second.offset :]
    assert words.startswith(layout.pages[1].rows[1].text.strip())
    assert second.offset > 0


@settings(deadline=None, max_examples=60)
@given(st.one_of(SCRIPTS, SCRIPTS.map(lambda text: f"{text}\n\n" * 5), any_text), st.sampled_from(PaperSize))
def test_locking_changes_no_page(text: str, paper: PaperSize) -> None:
    script, free = parse(text), PageSetting(paper)
    layout = paginate(script, free)
    locked = paginate(script, replace(free, locked_pages=beginnings(layout)))
    assert [(page.label, page.rows) for page in locked.pages] == [(page.label, page.rows) for page in layout.pages]
    assert beginnings(locked) == beginnings(layout)
    assert page_swap(layout, locked) == PageSwap((), ())


@settings(deadline=None, max_examples=60)
@given(copied, copied, st.booleans())
def test_the_swapped_pages_and_all_from_the_first_change_on_make_the_new_copy(
    before: str, after: str, now_locked: bool
) -> None:
    old, new = (replace(paginate(parse(text)), title_page=()) for text in (before, after))
    printed, wanted = print_pages(old), print_pages(new)
    changed = page_swap(old, new)
    assert swapped(printed, wanted, changed) == wanted
    if now_locked and new.pages:
        again = (LockedPage("1", 1), *beginnings(new)[1:3])
        new = replace(paginate(parse(after), replace(LETTER, locked_pages=again)), title_page=())
        wanted, changed = print_pages(new), page_swap(old, new)
    swap = swap_from_first_change(old, new)
    assert swapped(printed, wanted, swap) == wanted
    assert set(changed.out) <= set(swap.out)
    assert set(changed.into) <= set(swap.into)


def test_the_title_page_is_swapped_where_it_changed() -> None:
    drafts = ("Title: Neap\n\nRain.\n", "Title: Neap\n\nSnow.\n", "Title: Ebb\n\nSnow.\n", "Snow.\n")
    first, same, changed, without = (paginate(parse(text)) for text in drafts)
    for swap in (page_swap, swap_from_first_change):
        assert swap(first, same) == (("1",), ("1",))
        assert swap(same, changed) == ((TITLE_PAGE,), (TITLE_PAGE,))
        assert swap(changed, without) == ((TITLE_PAGE,), ())
        assert swap(without, first) == (("1",), (TITLE_PAGE, "1"))


def test_page_1_has_no_number_at_its_head_and_one_before_it_has() -> None:
    text = "Before.\n\nFirst.\n"
    layout = paginate(parse(text), replace(LETTER, locked_pages=(LockedPage("1", 3),)))
    assert [(page.label, page.head) for page in layout.pages] == [("A1", "A1."), ("1", "")]
    assert [layout.label_of(layout.page_of[line]) for line in (1, 3)] == ["A1", "1"]
    assert list(pages_of(print_pages(layout))) == ["A1", "1"]


def test_locked_pages_that_begin_nowhere_run_together_with_the_last_that_does() -> None:
    locked = (LockedPage("1", 1), LockedPage("2"), LockedPage("3"))
    (page,) = paginate(parse("Rain.\n"), replace(LETTER, locked_pages=locked)).pages
    assert page.label == "1-3"


def test_a_script_that_prints_nothing_has_no_locked_pages_either() -> None:
    assert paginate(parse(""), replace(LETTER, locked_pages=(LockedPage("1", 1),))).pages == ()


def test_it_is_known_where_the_text_of_each_locked_page_is_on_other_pages() -> None:
    numbers = (SceneNumber("1", None), SceneNumber("2", 1))
    script = parse(SAID)
    second = beginnings(paginate(script))[1]
    locked = (
        LockedPage("1", omitted="1"),
        LockedPage("2", 1),
        LockedPage("3", second.line, second.offset),
        LockedPage("4"),
    )
    layout = paginate(script, replace(LETTER, scene_numbers=numbers))
    assert pages_with(locked, layout) == [1, 1, 2, 2]


@settings(deadline=None, max_examples=60)
@given(SCRIPTS, st.sampled_from(PaperSize))
def test_the_text_of_each_page_begins_it_on_the_same_pages(text: str, paper: PaperSize) -> None:
    layout = paginate(parse(text), PageSetting(paper))
    assert pages_with(beginnings(layout), layout) == [page.number for page in layout.pages]
