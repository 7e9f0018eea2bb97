"""Reading on without a connection: what is kept of a script on the device, for whom, and until when."""

from __future__ import annotations

from typing import TYPE_CHECKING

from playwright.sync_api import Error, expect

from review.notes.models import Note
from tests.browser.script_steps import form_of, open_form_on_line, script_of, write

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import BrowserContext, Page

    from review.drafts.models import Draft
    from review.people.models import Member

    Visit = Callable[..., Page]

KEPT = "caches.keys().then((names) => Promise.all(names.map((name) => caches.open(name).then((each) => each.keys()))))"
LINE = "NELL mends a net by one lamp."


def kept(page: Page) -> int:
    return sum(map(len, page.evaluate(KEPT)))


def once_it_is_kept(page: Page) -> Page:
    page.wait_for_function(f"async () => (await {KEPT}).flat().length > 5")
    return page


def test_a_script_that_was_opened_is_read_on_and_a_half_written_note_is_gone_on_with_and_sent_once(
    visit: Visit, crew: Member, draft: Draft
) -> None:
    page = once_it_is_kept(visit(crew, script_of(draft), service_workers="allow"))
    write(open_form_on_line(page, 6), "By which")
    page.context.set_offline(True)
    page.reload()
    expect(page.get_by_text(LINE)).to_be_visible()
    expect(page.get_by_text("Without a connection. This is the script as it came last")).to_be_visible()
    page.get_by_role("button", name="Go on").click()
    expect(form_of(page).get_by_label("Your note")).to_have_value("By which")
    write(form_of(page), "By which lamp?")
    form_of(page).get_by_role("button", name="Leave the note").click()
    expect(form_of(page).get_by_text("They are sent by themselves once it is back.")).to_be_visible()
    page.context.set_offline(False)
    expect(page.get_by_role("article")).to_contain_text("By which lamp?")
    expect(page.get_by_text("Without a connection.")).to_be_hidden()
    assert Note.objects.get().body == "By which lamp?"


def test_at_sign_out_nothing_of_it_is_left(visit: Visit, crew: Member, draft: Draft) -> None:
    page = once_it_is_kept(visit(crew, script_of(draft), service_workers="allow"))
    page.locator(".top-person summary").click()
    page.get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/account/sign-in/**")
    assert kept(page) == 0
    page.context.set_offline(True)
    assert not is_shown(page, draft)


def test_whoever_else_signs_in_there_finds_nothing_of_it(
    visit: Visit, crew: Member, writer: Member, draft: Draft, sign_in: Callable[[BrowserContext, Member], None]
) -> None:
    page = once_it_is_kept(visit(crew, script_of(draft), service_workers="allow"))
    sign_in(page.context, writer)
    page.goto("/")
    page.wait_for_function(f"async () => (await {KEPT}).flat().length === 0")
    page.context.set_offline(True)
    assert not is_shown(page, draft)


def is_shown(page: Page, draft: Draft) -> bool:
    try:
        page.goto(script_of(draft))
    except Error:
        return False
    return page.get_by_text(LINE).is_visible()
