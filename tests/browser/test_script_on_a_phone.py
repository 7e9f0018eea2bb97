"""The script screen on a phone: choosing lines by touch, and notes that open at the foot of the screen."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import expect

from review.notes.models import Note
from tests.browser.conftest import PHONE, TOUCH
from tests.browser.script_steps import form_of, open_form_on_line, script_of, write
from tests.factories import make_draft, make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

    from review.drafts.models import Draft
    from review.people.models import Member

    Visit = Callable[..., Page]


def test_a_tap_chooses_a_line_and_another_reaches_further(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft), **TOUCH)
    page.locator("#L6").tap()
    expect(page.get_by_text("1 line on page 1", exact=True)).to_be_visible()
    page.locator("#L9").tap()
    expect(page.get_by_text("3 lines on page 1", exact=True)).to_be_visible()
    bar = page.locator("[data-choice]").bounding_box()
    assert bar
    assert bar["y"] + bar["height"] == pytest.approx(PHONE["height"], abs=1)
    page.get_by_role("button", name="Leave a note").tap()
    write(form_of(page), "One breath.")
    form_of(page).get_by_role("button", name="Leave the note").tap()
    expect(form_of(page)).to_have_count(0)
    note = Note.objects.get()
    assert (note.first_line, note.last_line) == (6, 9)


def test_lines_are_counted_as_a_phone_shows_them(visit: Visit, crew: Member, writer: Member) -> None:
    """Of a paragraph that is two rows on paper and three here, and of one that an italic word is in."""
    said = "The boats lie still in the harbour and the tide goes out past the wall, slowly, until there is mud."
    draft = make_draft(writer, f"INT. A - DAY\n\n{said}\n\nRain, *all* of it.\n")
    page = visit(crew, script_of(draft), **TOUCH)
    paragraph = page.locator("#L3")
    height = paragraph.evaluate("line => parseFloat(getComputedStyle(line).lineHeight)")
    box = paragraph.bounding_box()
    assert box
    shown = round(box["height"] / height)
    assert shown > 1 + paragraph.locator("br").count() == 2
    paragraph.tap()
    expect(page.get_by_text(f"{shown} lines on page 1", exact=True)).to_be_visible()
    page.locator("#L5").tap()
    expect(page.get_by_text(f"{shown + 1} lines on page 1", exact=True)).to_be_visible()


def test_a_note_left_on_a_phone_is_said_to_be_left_and_can_be_seen(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft), **TOUCH)
    page.locator("#L6").tap()
    page.get_by_role("button", name="Leave a note").tap()
    write(form_of(page), "One breath.")
    form_of(page).get_by_role("button", name="Leave the note").tap()
    expect(page.locator("[data-note-left]")).to_contain_text("Your note is left")
    page.get_by_role("button", name="See it").tap()
    expect(page.get_by_role("dialog", name="Notes on these lines").get_by_text("One breath.")).to_be_visible()


def test_a_half_written_note_is_offered_at_the_foot_wherever_the_reader_is(
    visit: Visit, crew: Member, writer: Member
) -> None:
    draft = make_draft(writer, "INT. A - DAY\n\n" + "Rain on the water.\n\n" * 80)
    page = visit(crew, script_of(draft), **TOUCH)
    write(open_form_on_line(page, 129), "Too wet")
    page.reload()
    page.evaluate("scrollTo(0, document.documentElement.scrollHeight)")
    expect(page.get_by_text("Half-written note on page 3: “Too wet”")).to_be_in_viewport()


def test_a_form_refused_on_a_phone_shows_its_first_error(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft), **TOUCH)
    page.locator("#L6").tap()
    page.get_by_role("button", name="Leave a note").tap()
    form_of(page).get_by_label("Your note").fill("No kind chosen")
    form_of(page).get_by_role("button", name="Leave the note").tap()
    error = form_of(page).get_by_text("Choose what kind of note this is.")
    expect(error).to_be_focused()
    expect(error).to_be_in_viewport()


def test_a_tap_on_the_only_chosen_line_lets_it_go(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft), **TOUCH)
    page.locator("#L6").tap()
    page.locator("#L6").tap()
    expect(page.locator("[data-choice]")).to_be_hidden()


def test_a_finger_that_scrolls_chooses_nothing(visit: Visit, crew: Member, writer: Member) -> None:
    draft = make_draft(writer, "INT. A - DAY\n\n" + "Rain on the water.\n\n" * 80)
    page = visit(crew, script_of(draft), **TOUCH)
    devtools = page.context.new_cdp_session(page)
    for kind, y in (("touchStart", 600), *(("touchMove", y) for y in range(580, 280, -20)), ("touchEnd", None)):
        points = [] if y is None else [{"x": 150, "y": y}]
        devtools.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
    devtools.detach()
    assert page.evaluate("scrollY") > 100
    expect(page.locator("[data-choice]")).to_be_hidden()
    expect(page.locator(".chosen")).to_have_count(0)


def test_on_a_phone_a_marker_opens_the_thread(visit: Visit, crew: Member, draft: Draft) -> None:
    make_note(crew, draft, 6, body="From the margin")
    page = visit(crew, script_of(draft), **TOUCH)
    expect(page.get_by_text("From the margin")).to_be_hidden()
    page.locator(".marker").tap()
    thread = page.get_by_role("dialog", name="Notes on these lines")
    expect(thread.get_by_text("From the margin")).to_be_visible()
    thread.get_by_text("Reply", exact=True).first.tap()
    thread.get_by_label(re.compile("Your reply")).fill("Answered here")
    thread.get_by_role("button", name="Reply", exact=True).tap()
    expect(thread.get_by_text("Answered here")).to_be_visible()
    thread.get_by_role("button", name="Close").tap()
    expect(page.locator(".margin [data-note]")).to_have_count(1)
    page.get_by_role("link", name="1 note on this page").tap()
    expect(page.get_by_text("Answered here")).to_be_visible()


def test_on_a_phone_one_steps_from_note_to_note_and_back_to_where_one_began(
    visit: Visit, crew: Member, draft: Draft
) -> None:
    for at, body in ((6, "The first"), (9, "The second"), (17, "The third")):
        make_note(crew, draft, at, body=body)
    page = visit(crew, script_of(draft), **TOUCH)
    begin = page.locator("[data-reach-notes]").get_by_role("button", name="Next note")
    begin.tap()
    thread = page.get_by_role("dialog", name="Notes on these lines")
    for body in ("The first", "The second", "The third"):
        expect(thread.get_by_role("article")).to_have_count(1)
        expect(thread.get_by_text(body)).to_be_visible()
        thread.get_by_role("button", name="Next note").tap()
    thread.get_by_role("button", name="Note before").tap()
    expect(thread.get_by_text("The third")).to_be_visible()
    thread.get_by_role("button", name="Close").tap()
    expect(begin).to_be_focused()
    expect(page.locator(".margin [data-note]")).to_have_count(3)


def test_a_phone_shows_the_script_at_a_readable_size_within_its_width(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft), **TOUCH)
    size = page.locator("#L6").evaluate("(row) => parseFloat(getComputedStyle(row).fontSize)")
    assert size >= 15
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    expect(page.locator(".page-number")).to_have_text("Page 1.")


def test_a_tap_on_a_heading_offers_a_note_on_its_scene(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft), **TOUCH)
    page.locator("#L6").tap()
    expect(page.get_by_role("button", name="Note on this scene")).to_be_hidden()
    page.get_by_role("button", name="Clear").tap()
    page.locator("#L4").tap()
    page.get_by_role("button", name="Note on this scene").tap()
    expect(form_of(page).get_by_role("radio", name="The scene")).to_be_checked()


def test_a_word_is_found_and_led_to_and_the_way_back_is_kept(visit: Visit, crew: Member, writer: Member) -> None:
    draft = make_draft(writer, "INT. A - DAY\n\n" + "Rain on the water.\n\n" * 150 + "A kettle sings.\n")
    make_note(crew, draft, 201, body="Which kettle?")
    page = visit(crew, script_of(draft), **TOUCH)
    page.get_by_role("button", name="Find", exact=True).tap()
    page.get_by_label("Find in the script and its notes").fill("kettle")
    expect(page.get_by_text("1 line and 1 note with “kettle”")).to_be_visible()
    page.get_by_role("link", name="A kettle sings.").tap()
    expect(page.locator("#L303")).to_be_in_viewport()
    chosen = (
        "[...CSS.highlights.get('found-chosen')].map((range) => range.startContainer.parentElement.closest('[id]').id)"
    )
    assert page.evaluate(chosen) == ["L303"]
    page.get_by_role("button", name="Back to where I was").tap()
    expect(page.locator("#L1")).to_be_in_viewport()
    page.get_by_role("button", name="Find", exact=True).tap()
    page.get_by_role("link", name="Which kettle?").tap()
    expect(page.get_by_role("dialog", name="Notes on these lines")).to_contain_text("Which kettle?")
