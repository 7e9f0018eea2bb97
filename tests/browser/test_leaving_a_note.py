"""Choosing lines of the script and leaving notes on them, in a real browser."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from django.urls import reverse
from playwright.sync_api import expect

from review.notes.models import Note
from tests.browser.script_steps import drag_over, form_of, open_form_on_line, script_of, write
from tests.factories import make_draft, make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

    from review.drafts.models import Draft
    from review.people.models import Member

    Visit = Callable[..., Page]


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


def test_a_note_left_below_others_on_its_line_is_in_view_and_escape_leads_back(
    visit: Visit, crew: Member, draft: Draft
) -> None:
    for _ in range(4):
        make_note(crew, draft, 6, body="Who holds the lamp, and from where? " * 9)
    page = visit(crew, script_of(draft), viewport={"width": 1440, "height": 600})
    expect(page.get_by_role("article")).to_have_count(4)
    write(open_form_on_line(page, 6), "And who trims it?")
    page.keyboard.press("Control+Enter")
    card = page.get_by_role("article").filter(has_text="And who trims it?")
    expect(card).to_be_focused()
    expect(card).to_be_in_viewport(ratio=1)
    page.keyboard.press("Escape")
    expect(page.locator("#L6")).to_be_focused()


def test_escape_lets_the_choice_go_and_closes_the_form(visit: Visit, crew: Member, draft: Draft) -> None:
    """Also where the address has led to a page, to which a browser that goes back would take the focus."""
    page = visit(crew, f"{script_of(draft)}#page-1")
    page.locator("#L6").focus()
    page.keyboard.press("Shift+ArrowDown")
    expect(page.locator(".chosen")).to_have_count(2)
    page.keyboard.press("Escape")
    expect(page.locator(".chosen")).to_have_count(0)
    open_form_on_line(page, 6)
    page.keyboard.press("Escape")
    expect(form_of(page)).to_have_count(0)
    expect(page.locator("#L6")).to_be_focused()


def test_a_drag_that_ends_within_a_word_takes_the_whole_word(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    drag_over(page, 6, 7, 15)
    page.get_by_role("button", name="Leave a note").click()
    expect(form_of(page).locator(".quoted")).to_have_text("mends a net")


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


def test_a_note_that_is_sent_again_after_going_back_counts_once(visit: Visit, crew: Member, draft: Draft) -> None:
    """Other words are another note's. What the browser puts back comes a moment after the page."""
    address = reverse("note-new", args=[draft.production.public_id, draft.number])
    page = visit(crew, f"{address}?from=6&to=6")
    page.get_by_role("radio", name="Idea").check()
    page.get_by_label("Your note").fill("Cut the cue")
    sent = page.locator("[name=form_id]").input_value()
    page.get_by_role("button", name="Leave the note").click()
    expect(page.get_by_role("article")).to_be_visible()
    page.go_back()
    expect(page.get_by_label("Your note")).to_have_value("Cut the cue")
    expect(page.locator("[name=form_id]")).to_have_value(sent)
    page.get_by_label("Your note").press_sequentially("!")
    expect(page.locator("[name=form_id]")).not_to_have_value(sent)
    page.get_by_label("Your note").press("Backspace")
    expect(page.locator("[name=form_id]")).to_have_value(sent)
    page.get_by_role("radio", name="Problem").check()
    expect(page.locator("[name=form_id]")).not_to_have_value(sent)
    page.get_by_role("radio", name="Idea").check()
    assert "Cut the cue" not in page.evaluate("() => JSON.stringify(history.state)")
    page.get_by_role("button", name="Leave the note").click()
    expect(page.get_by_role("article").get_by_text("You left this note already.")).to_be_in_viewport()
    assert Note.objects.count() == 1
    page.go_back()
    expect(page.locator("[name=form_id]")).to_have_value(sent)
    page.get_by_label("Your note").fill("Cut the net")
    page.get_by_role("button", name="Leave the note").click()
    expect(page.get_by_role("article")).to_have_count(2)
    assert sorted(note.body for note in Note.objects.all()) == ["Cut the cue", "Cut the net"]


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
    page.get_by_text("Scene", exact=True).click()
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
    expect(form.locator("#wording-help")).to_contain_text("replaces the words you chose")
    wording.fill("tears at")
    expect(form.locator("[data-would-read]")).to_have_text("NELL mendstears at a net by one lamp.")
    expect(form.locator("[data-would-read] del")).to_have_text("mends")
    form.get_by_role("button", name="Leave the note").click()
    expect(page.get_by_role("article")).to_be_visible()
    note = Note.objects.get()
    assert (note.quoted, note.wording) == ("mends", "NELL tears at a net by one lamp.")
