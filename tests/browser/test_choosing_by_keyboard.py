"""Choosing words by the keyboard alone and without any key, and a form that is in view as it opens."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from playwright.sync_api import expect

from review.notes.models import Note
from tests.browser.conftest import TOUCH
from tests.browser.script_steps import form_of, open_form_on_line, script_of, write
from tests.factories import make_draft

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

    from review.drafts.models import Draft
    from review.people.models import Member

    Visit = Callable[..., Page]

ABOVE_ITS_KEYBOARD = {**TOUCH, "viewport": {"width": 390, "height": 480}}


def test_arrows_choose_words_in_a_line_and_shift_takes_in_more(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    page.locator("#L6").focus()
    for key in ("ArrowRight", "ArrowRight", "Shift+ArrowRight", "Shift+ArrowRight", "Shift+ArrowLeft"):
        page.keyboard.press(key)
    expect(page.locator("[data-said]")).to_have_text("“mends a” chosen. Enter leaves a note.")
    page.keyboard.press("Enter")
    expect(form_of(page).locator(".quoted")).to_have_text("mends a")
    write(form_of(page), "Mends, or cuts?")
    page.keyboard.press("Control+Enter")
    expect(page.get_by_role("article")).to_be_focused()
    note = Note.objects.get()
    assert (note.first_line, note.first_char, note.last_char, note.quoted) == (6, 5, 12, "mends a")


def test_what_is_offered_for_a_word_of_a_heading_stands_whole_on_the_screen(
    visit: Visit, crew: Member, draft: Draft
) -> None:
    page = visit(crew, script_of(draft))
    page.locator("#L4").focus()
    page.keyboard.press("ArrowRight")
    for offered in ("Leave a note", "Note on this scene", "Mark words", "Clear"):
        expect(page.get_by_role("button", name=offered, exact=True)).to_be_in_viewport(ratio=1)


def test_a_word_of_which_a_part_is_slanted_is_one_word_and_the_last_comes_first_from_behind(
    visit: Visit, crew: Member, writer: Member
) -> None:
    draft = make_draft(writer, "INT. A - DAY\n\nThe un*think*able 🦢 *sails* on.\n")
    page = visit(crew, script_of(draft))
    page.locator("#L3").focus()
    heard = []
    for _ in range(4):
        page.keyboard.press("ArrowLeft")
        heard.append(page.locator("[data-said]").inner_text().split("”")[0].strip("“"))
    assert heard == ["on.", "sails", "🦢", "unthinkable"]
    page.keyboard.press("Escape")
    expect(page.locator(".chosen")).to_have_count(0)


def test_lines_are_counted_as_they_stand_on_the_page(visit: Visit, crew: Member, writer: Member) -> None:
    draft = make_draft(writer, f"INT. A - DAY\n\n{'The boats lie still. ' * 7}\n\nRain.\n")
    page = visit(crew, script_of(draft))
    page.locator("#L3").focus()
    page.keyboard.press("Shift+ArrowDown")
    expect(page.get_by_text("4 lines on page 1", exact=True)).to_be_visible()
    page.keyboard.press("Escape")
    page.locator("#L3").focus()
    page.keyboard.press("ArrowRight")
    expect(page.get_by_text("1 line on page 1", exact=True)).to_be_visible()


@pytest.mark.parametrize("screen", [{"viewport": {"width": 1440, "height": 900}}, ABOVE_ITS_KEYBOARD])
def test_the_form_opens_with_the_cursor_where_one_writes_and_all_one_needs_in_view(
    visit: Visit, crew: Member, draft: Draft, screen: dict[str, Any]
) -> None:
    page = visit(crew, script_of(draft), **screen)
    form = open_form_on_line(page, 9)
    expect(form.get_by_label("Your note")).to_be_focused()
    for part in (form.get_by_text("Question", exact=True), form.get_by_label("Your note"), form.locator(".send")):
        expect(part).to_be_in_viewport(ratio=1)


# Roles of widgets, which screen readers would have to hand keys on to (WAI-ARIA 1.2, section 5.3.2).
WIDGETS = {"option", "gridcell", "treeitem", "menuitem", "tab", "button", "link", "checkbox", "radio"}
PARTS = ("role", "name", "description")


def heard_on(page: Page) -> list[tuple[str, str, str]]:
    """The role, the name and the description of all that a screen reader meets, in its order."""
    devtools = page.context.new_cdp_session(page)
    nodes = devtools.send("Accessibility.getFullAXTree")["nodes"]
    devtools.detach()
    by_id = {node["nodeId"]: node for node in nodes}
    found = []
    waiting = [nodes[0]["nodeId"]]
    while waiting:
        node = by_id[waiting.pop()]
        if not node["ignored"]:
            role, name, description = (str(node.get(part, {}).get("value", "")) for part in PARTS)
            found.append((role, name, description))
        waiting += reversed([each for each in node["childIds"] if each in by_id])
    return found


def test_a_line_is_heard_as_its_words_and_a_form_that_needs_no_keys_offers_the_lines_of_a_page(
    visit: Visit, crew: Member, draft: Draft
) -> None:
    page = visit(crew, script_of(draft))
    heard = heard_on(page)
    met = [(role, name) for role, name, _ in heard]
    begin, end = met.index(("heading", "INT. BOATHOUSE - NIGHT")), met.index(("link", "Leave a note on page 1"))
    lines = heard[begin : met.index(("StaticText", "He didn't wait."))]
    assert ("StaticText", "NELL mends a net by one lamp.", "") in lines
    assert WIDGETS.isdisjoint(role for role, _, _ in lines)
    assert not any(description for _, _, description in lines)
    assert begin + len(lines) < end
    page.get_by_role("link", name="Leave a note on page 1").dispatch_event("click")
    form = form_of(page)
    expect(form.get_by_label("From")).to_be_focused()
    form.get_by_label("From").select_option("NELL mends a net by one lamp.")
    form.get_by_label("to", exact=True).select_option("NELL")
    form.get_by_role("button", name="Choose these lines").press("Enter")
    expect(form.get_by_label("Your note")).to_be_focused()
    form.get_by_text("Other lines").press("Enter")
    expect(form.get_by_label("From")).to_be_visible()
    expect(form.get_by_role("button", name="Choose on the page")).to_be_visible()
    write(form, "Cut the cue")
    form.get_by_label("Your note").press("Control+Enter")
    expect(page.get_by_role("article")).to_be_focused()
    assert (Note.objects.get().first_line, Note.objects.get().last_line) == (6, 8)


def test_a_form_opened_at_a_page_s_end_gives_the_focus_back_there(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    door = page.get_by_role("link", name="Leave a note on page 1")
    door.dispatch_event("click")
    expect(form_of(page).get_by_label("From")).to_be_focused()
    page.keyboard.press("Escape")
    expect(form_of(page)).to_have_count(0)
    expect(door).to_be_focused()
