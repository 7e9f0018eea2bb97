"""Choosing words by the keyboard alone, and a form that is in view as it opens."""

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


@pytest.mark.parametrize("screen", [{"viewport": {"width": 1440, "height": 900}}, ABOVE_ITS_KEYBOARD])
def test_the_form_opens_with_the_cursor_where_one_writes_and_all_one_needs_in_view(
    visit: Visit, crew: Member, draft: Draft, screen: dict[str, Any]
) -> None:
    page = visit(crew, script_of(draft), **screen)
    form = open_form_on_line(page, 9)
    expect(form.get_by_label("Your note")).to_be_focused()
    for part in (form.get_by_text("Question", exact=True), form.get_by_label("Your note"), form.locator(".send")):
        expect(part).to_be_in_viewport(ratio=1)
