"""The script screen in a real browser: choosing lines, leaving notes, and words that survive what goes wrong."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING, Any
from uuid import uuid4

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from review.decisions.acts import decide
from review.drafts.visits import be_at
from review.notes.carrying import carry_notes
from review.notes.models import Audience, Note
from tests.browser.conftest import PHONE, TOUCH
from tests.browser.reach import desk_by_night_phone_by_day, in_every_look, shuts_nobody_out
from tests.browser.script_steps import drag_over, form_of, open_form_on_line, script_of, words_box, write
from tests.factories import SCRIPT, make_draft, make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

    from review.drafts.models import Draft
    from review.people.models import Member

    Visit = Callable[..., Page]

SETTLED = (
    "document.fonts.ready.then(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))))"
)


def test_words_dragged_over_become_a_note_on_just_those_words(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    drag_over(page, 6, 5, 10)
    expect(page.get_by_text("1 line on page 1", exact=True)).to_be_visible()
    page.get_by_role("button", name="Leave a note").click()
    form = form_of(page)
    expect(form.locator(".quoted")).to_have_text("mends")
    write(form, "With what *needle*?")
    form.get_by_role("button", name="Leave the note").click()
    card = page.get_by_role("article", name="Question Bo Finch Camera")
    expect(card).to_be_focused()
    expect(card.locator("em")).to_have_text("needle")
    expect(form).to_have_count(0)
    note = Note.objects.get()
    assert (note.first_line, note.first_char, note.last_line, note.last_char) == (6, 5, 6, 10)
    assert note.quoted == "mends"


def test_a_note_beyond_an_emoji_counts_characters_as_the_text_does(visit: Visit, crew: Member, writer: Member) -> None:
    draft = make_draft(writer, "INT. A - DAY\n\nA 🚤 and a 🦢 pass by.\n")
    page = visit(crew, script_of(draft))
    page.evaluate(
        """() => {
            const text = document.querySelector("#L3").firstChild;
            const at = text.data.indexOf("pass");
            document.getSelection().setBaseAndExtent(text, at, text, at + 4);
        }"""
    )
    page.get_by_role("button", name="Leave a note").click()
    write(form_of(page), "Which way?")
    form_of(page).get_by_role("button", name="Leave the note").click()
    expect(page.get_by_role("article")).to_be_visible()
    assert Note.objects.get().quoted == "pass"


def test_the_keyboard_alone_chooses_lines_and_leaves_a_note(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    page.locator("#L8").focus()
    page.keyboard.press("ArrowDown")
    expect(page.locator("#L9")).to_be_focused()
    page.keyboard.press("Shift+ArrowDown")
    page.keyboard.press("Shift+ArrowDown")
    expect(page.locator("[data-said]")).to_have_text("3 lines on page 1 chosen. Enter leaves a note.")
    page.keyboard.press("n")
    expect(form_of(page).get_by_label("Your note")).to_be_focused()
    write(form_of(page), "Too quick.")
    form_of(page).get_by_role("button", name="Leave the note").press("Enter")
    expect(page.get_by_role("article")).to_be_focused()
    note = Note.objects.get()
    assert (note.first_line, note.last_line) == (9, 12)


def test_escape_lets_the_choice_go_and_closes_the_form(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    page.locator("#L6").focus()
    page.keyboard.press("Shift+ArrowDown")
    expect(page.locator(".chosen")).to_have_count(2)
    page.keyboard.press("Escape")
    expect(page.locator(".chosen")).to_have_count(0)
    open_form_on_line(page, 6)
    page.keyboard.press("Escape")
    expect(form_of(page)).to_have_count(0)
    expect(page.locator("#L6")).to_be_focused()


def test_the_tab_key_meets_one_line_of_the_script_and_not_every_link(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    expect(page.locator("[data-pages] .paper [tabindex='0']")).to_have_count(1)
    expect(page.locator("[data-pages] .doors a:not([tabindex='-1'])")).to_have_count(0)


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


def test_a_drag_that_ends_within_a_word_takes_the_whole_word(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    drag_over(page, 6, 7, 15)
    page.get_by_role("button", name="Leave a note").click()
    expect(form_of(page).locator(".quoted")).to_have_text("mends a net")


def test_a_decided_note_is_folded_to_its_first_words_and_opens(
    visit: Visit, crew: Member, writer: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 6, body="Is the lamp real?")
    decide(writer, note, "accepted", "An LED one.", 0, uuid4())
    page = visit(crew, script_of(draft))
    card = page.get_by_role("article")
    expect(card.locator("summary").first).to_contain_text("Is the lamp real?")
    expect(card.get_by_text("An LED one.")).to_be_hidden()
    card.locator("summary").first.press("Enter")
    expect(card.get_by_text("An LED one.")).to_be_visible()


def test_the_marker_of_a_speech_beside_another_covers_no_words(visit: Visit, crew: Member, writer: Member) -> None:
    draft = make_draft(writer, "INT. A - DAY\n\nNELL\nIt is late now.\n\nTOBIAS ^\nIt is early now.\n")
    for line in (4, 7):
        make_note(crew, draft, line)
    page = visit(crew, script_of(draft))
    page.evaluate(SETTLED)
    words = [words_box(page, line) for line in (3, 4, 6, 7)]
    expect(page.locator(".marker")).to_have_count(2)
    markers = [box for marker in page.locator(".marker").all() if (box := marker.bounding_box())]
    for marker in markers:
        assert marker["x"] + marker["width"] <= min(box["x"] for box in words) or marker["x"] >= max(
            box["x"] + box["width"] for box in words
        )


def test_the_keyboard_skips_to_the_script_s_first_line(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    page.get_by_role("link", name="Skip to the script").press("Enter")
    expect(page.locator("[data-pages] .paper [tabindex='0']")).to_be_focused()


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
    assert page.evaluate("scrollY") > 100
    expect(page.locator("[data-choice]")).to_be_hidden()
    expect(page.locator(".chosen")).to_have_count(0)


def test_cards_stand_level_with_their_lines_and_never_overlap(visit: Visit, crew: Member, draft: Draft) -> None:
    for line in (6, 6, 9, 17):
        make_note(crew, draft, line)
    page = visit(crew, script_of(draft))
    expect(page.get_by_role("article")).to_have_count(4)
    page.evaluate(SETTLED)
    boxes = [box for card in page.get_by_role("article").all() if (box := card.bounding_box())]
    beside = page.locator("#L6").bounding_box()
    assert beside
    assert len(boxes) == 4
    assert boxes[0]["y"] == pytest.approx(beside["y"], abs=2)
    for above, below in pairwise(boxes):
        assert above["y"] + above["height"] <= below["y"]


def test_a_card_lights_its_lines_and_a_line_its_cards(visit: Visit, crew: Member, draft: Draft) -> None:
    make_note(crew, draft, 6)
    make_note(crew, draft, 17)
    page = visit(crew, script_of(draft))
    page.get_by_role("article").first.hover()
    expect(page.locator("#L6")).to_have_class(re.compile(r"\blit\b"))
    page.locator("#L17").hover()
    expect(page.get_by_role("article").nth(1)).to_have_class(re.compile("note-lit"))
    expect(page.locator("#L6")).not_to_have_class(re.compile(r"\blit\b"))


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


def test_a_desk_shows_every_row_where_the_layout_put_it(visit: Visit, crew: Member, draft: Draft) -> None:
    """Dialogue begins 10 columns in, a cue 22: the trade's figures on paper, 2.5 in and 3.7 in from its left edge."""
    page = visit(crew, script_of(draft))
    page.evaluate(SETTLED)
    boxes = {line: words_box(page, line) for line in (6, 8, 9)}
    left = {line: box["x"] for line, box in boxes.items()}
    column = boxes[6]["width"] / len("NELL mends a net by one lamp.")
    assert (left[9] - left[6]) / column == pytest.approx(10, abs=0.05)
    assert (left[8] - left[6]) / column == pytest.approx(22, abs=0.05)


def test_without_javascript_a_page_s_link_leads_to_a_form_that_works(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft), java_script_enabled=False)
    page.get_by_role("link", name="Leave a note on page 1").click()
    page.get_by_label("From").select_option("NELL mends a net by one lamp.")
    page.get_by_label("to", exact=True).select_option("NELL")
    page.get_by_role("button", name="Choose these lines").click()
    expect(page.get_by_role("heading", name="A note on page 1")).to_be_visible()
    page.get_by_role("radio", name="Idea").check()
    page.get_by_label("Your note").fill("Cut the cue")
    page.get_by_role("button", name="Leave the note").click()
    expect(page.get_by_role("article")).to_contain_text("Cut the cue")
    note = Note.objects.get()
    assert (note.first_line, note.last_line) == (6, 8)


@in_every_look
def test_nobody_is_shut_out(visit: Visit, crew: Member, writer: Member, draft: Draft, look: dict[str, Any]) -> None:
    """On the screen with notes of every fate, and with its form open."""
    make_note(crew, draft, 6, kind="safety", wording="NELL mends a sail.")
    make_note(writer, draft, 9, audience=Audience.WRITER)
    make_note(crew, draft, 17)
    second = make_draft(
        writer, SCRIPT.replace("Tide turns at four.", "Tide turns at five.").replace("He didn't wait.", ""), 2
    )
    carry_notes(second)
    page = visit(writer, script_of(second), **look)
    page.evaluate(SETTLED)
    shuts_nobody_out(page)
    open_form_on_line(page, 6)
    shuts_nobody_out(page)


@desk_by_night_phone_by_day
def test_nobody_is_shut_out_of_the_form_s_own_page_nor_a_note_s(
    visit: Visit, crew: Member, draft: Draft, look: dict[str, Any]
) -> None:
    """The same on the pages that work without JavaScript."""
    note = make_note(crew, draft, 6, kind="safety", wording="NELL mends a sail.")
    key = draft.production.public_id
    page = visit(crew, reverse("note-new", args=[key, 1]) + "?from=6&to=99", **look)
    shuts_nobody_out(page)
    page.goto(reverse("note", args=[key, note.public_id]))
    shuts_nobody_out(page)


def test_a_form_that_does_not_come_leaves_the_lines_chosen(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    page.route("**/notes/new/?*", lambda route: route.fulfill(status=500, body="<h1>Oh</h1>"))
    page.locator("#L6").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_text("The form did not come. Try again:")).to_be_visible()
    page.unroute_all()
    page.get_by_role("button", name="Leave a note").click()
    expect(page.get_by_role("heading", name="A note on page 1")).to_be_visible()


def test_someone_signed_out_is_led_by_the_sign_in_page_to_the_form(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    page.context.clear_cookies(name="sessionid")
    page.locator("#L6").focus()
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile(r"/account/sign-in/\?next=.*notes/new/"))


def test_a_heading_offers_a_note_on_its_scene_to_mouse_and_keyboard(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    page.locator("#L4").hover()
    page.get_by_text("On the scene", exact=True).click()
    expect(form_of(page).get_by_role("radio", name="The scene")).to_be_checked()
    page.keyboard.press("Escape")
    page.locator("#L15").focus()
    page.keyboard.press("s")
    form = form_of(page)
    expect(form.get_by_role("radio", name="The scene")).to_be_checked()
    expect(form.get_by_text("Offer a wording")).to_be_hidden()
    write(form, "Too long for where it stands.")
    form.get_by_role("button", name="Leave the note").click()
    expect(page.get_by_role("article")).to_contain_text("On the scene EXT. SLIPWAY - DAWN")
    expect(page.locator("[aria-description]")).to_have_count(1)
    assert (Note.objects.get().first_line, Note.objects.get().last_line) == (15, 20)


def test_a_tap_on_a_heading_offers_a_note_on_its_scene(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft), **TOUCH)
    page.locator("#L6").tap()
    expect(page.get_by_role("button", name="Note on this scene")).to_be_hidden()
    page.get_by_role("button", name="Clear").tap()
    page.locator("#L4").tap()
    page.get_by_role("button", name="Note on this scene").tap()
    expect(form_of(page).get_by_role("radio", name="The scene")).to_be_checked()


def test_words_half_written_on_a_scene_come_back_as_a_note_on_it(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    page.locator("#L4").focus()
    page.keyboard.press("s")
    form_of(page).get_by_label("Your note").fill("Half a thought")
    page.keyboard.press("Escape")
    page.reload()
    page.get_by_role("button", name="Go on").click()
    expect(form_of(page).get_by_role("radio", name="The scene")).to_be_checked()
    expect(form_of(page).get_by_label("Your note")).to_have_value("Half a thought")


def test_the_form_keeps_the_keyboard_and_sends_by_it_and_going_back_closes_it(
    visit: Visit, crew: Member, draft: Draft
) -> None:
    page = visit(crew, script_of(draft))
    form = open_form_on_line(page, 6)
    page.keyboard.press("Shift+Tab")
    for _ in range(14):
        page.keyboard.press("Tab")
        assert page.evaluate("document.querySelector('[data-note-dialog]').contains(document.activeElement)")
    page.go_back()
    expect(form).to_have_count(0)
    expect(page.locator("#L6")).to_be_focused()
    write(open_form_on_line(page, 6), "By the keyboard alone")
    form.get_by_label("Your note").press("Control+Enter")
    expect(page.get_by_role("article")).to_be_focused()
    expect(page.locator("[data-said]")).to_have_text("Your note is left.")


def test_a_withdrawn_note_is_gone_at_once_and_can_be_put_back(visit: Visit, crew: Member, draft: Draft) -> None:
    make_note(crew, draft, 6, body="Hasty words")
    page = visit(crew, script_of(draft))
    card = page.get_by_role("article")
    card.get_by_text("Withdraw", exact=True).click()
    card.get_by_role("button", name="Withdraw this note").click()
    expect(page.get_by_text("Hasty words")).to_be_hidden()
    expect(page.locator(".marker")).to_have_count(0)
    expect(card.get_by_role("button", name="Put it back")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.get_by_text("Hasty words")).to_be_visible()
    expect(page.locator(".marker")).to_have_count(1)
    assert Note.objects.get().withdrawn_at is None


def test_a_reply_is_where_one_goes_on_after_sending_it(visit: Visit, crew: Member, draft: Draft) -> None:
    make_note(crew, draft, 6)
    page = visit(crew, script_of(draft))
    page.get_by_text("Reply", exact=True).first.click()
    page.get_by_label(re.compile("Your reply")).fill("It is dusk.")
    page.get_by_role("button", name="Reply", exact=True).click()
    expect(page.locator(".reply")).to_be_focused()
    expect(page.locator("[data-said]")).to_have_text("Your reply is under the note.")


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


def test_letters_are_as_large_as_wanted_and_one_character_s_lines_stand_forward(
    visit: Visit, crew: Member, draft: Draft
) -> None:
    page = visit(crew, script_of(draft))
    before = words_box(page, 6)["width"]
    page.get_by_role("button", name="View").click()
    page.get_by_role("radio", name="Large", exact=True).check(force=True)
    assert words_box(page, 6)["width"] > 1.05 * before
    page.get_by_label("Bring one character’s lines forward").select_option("NELL")
    expect(page.get_by_text("2 speeches of NELL.")).to_be_visible()
    assert page.locator(".theirs").evaluate_all("(lines) => lines.map((line) => line.id)") == ["L8", "L9", "L19", "L20"]
    page.reload()
    assert words_box(page, 6)["width"] > 1.05 * before


def test_the_script_opens_where_it_was_left_and_leads_to_any_page_and_note(
    visit: Visit, crew: Member, writer: Member
) -> None:
    draft = make_draft(writer, "INT. A - DAY\n\n" + "Rain on the water.\n\n" * 150)
    make_note(crew, draft, 149, body="On this line")
    make_note(crew, draft, 251, body="How deep?")
    be_at(crew, draft, 151)
    page = visit(crew, script_of(draft))
    expect(page.locator("#L151")).to_be_in_viewport()
    expect(page.locator("#L149")).to_be_in_viewport()  # above the line that one is at
    next_note = page.locator("[data-reach-notes]").get_by_role("button", name="Next note")
    next_note.dispatch_event("click")  # which a mouse that first scrolls it into view would not do
    expect(page.get_by_role("article").filter(has_text="How deep?")).to_be_focused()
    page.get_by_role("button", name="Back to where I was").click()
    page.get_by_label("Page", exact=True).fill("2")
    page.get_by_role("button", name="Go", exact=True).click()
    expect(page.locator("[data-reach-place]")).to_have_text("Page 2 of 6")
    next_note.dispatch_event("click")
    expect(page.get_by_role("article").filter(has_text="On this line")).to_be_focused()
    next_note.dispatch_event("click")
    expect(page.get_by_role("article").filter(has_text="How deep?")).to_be_focused()
    expect(page.locator("#L251")).to_be_in_viewport()
    page.get_by_label("Page", exact=True).fill("9")
    page.get_by_role("button", name="Go", exact=True).click()
    expect(page.get_by_text("There is no page 9: the last is 6.")).to_be_visible()


def test_marks_and_cards_never_move_the_page(visit: Visit, crew: Member, writer: Member) -> None:
    draft = make_draft(writer, "INT. A - DAY\n\n" + "Rain on the water.\n\n" * 150)
    for line in range(3, 300, 4):
        make_note(crew, draft, line)
    page = visit(crew, "about:blank")
    page.add_init_script(
        """
        window.moved = [];
        new PerformanceObserver((list) => {
            for (const shift of list.getEntries())
                for (const { node } of shift.sources)
                    if (node?.parentElement?.closest(".leaf")) window.moved.push(`${node.textContent} ${shift.value}`);
        }).observe({ type: "layout-shift", buffered: true });
        """
    )
    page.goto(script_of(draft))
    for _ in range(8):
        page.mouse.wheel(0, 700)
        page.wait_for_timeout(120)
    expect(page.get_by_role("article").first).to_be_attached()
    assert page.evaluate("moved") == []


def test_other_lines_are_chosen_on_the_page_and_a_wording_on_part_of_one_shows_what_becomes_of_it(
    visit: Visit, crew: Member, draft: Draft
) -> None:
    page = visit(crew, script_of(draft))
    write(open_form_on_line(page, 9), "Too flat")
    form_of(page).get_by_text("Other lines").click()
    expect(form_of(page)).to_be_hidden()
    drag_over(page, 6, 5, 10)
    page.get_by_role("button", name="Use these lines").click()
    form = form_of(page)
    expect(form.locator(".quoted")).to_have_text("mends")
    expect(form.get_by_label("Your note")).to_have_value("Too flat")
    form.get_by_text("Offer a wording").click()
    wording = form.get_by_label("The lines, worded your way")
    expect(wording).to_have_value("mends")
    wording.fill("tears at")
    expect(form.locator("[data-would-read]")).to_have_text("NELL mendstears at a net by one lamp.")
    expect(form.locator("[data-would-read] del")).to_have_text("mends")
    form.get_by_role("button", name="Leave the note").click()
    expect(page.get_by_role("article")).to_be_visible()
    note = Note.objects.get()
    assert (note.quoted, note.wording) == ("mends", "NELL tears at a net by one lamp.")
