"""That a page which one test has left is as good as new to the next."""

from __future__ import annotations

from typing import TYPE_CHECKING

from playwright.sync_api import expect

from tests.browser.conftest import DESK, PATIENCE_MS, PHONE
from tests.browser.script_steps import script_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import BrowserContext
    from pytest_django.live_server_helper import LiveServer

    from review.drafts.models import Draft
    from review.people.models import Member
    from tests.browser.pages import KeptPages
    from tests.browser.under_way import RequestsUnderWay

TELLS_AS_IT_IS_LEFT = """() => addEventListener("pagehide", () => {
    fetch("place/", { method: "POST", keepalive: true }).catch(() => {});
})"""
SHOWN = """() => [innerWidth, innerHeight, matchMedia("(prefers-color-scheme: dark)").matches,
    matchMedia("(prefers-reduced-motion: reduce)").matches, matchMedia("print").matches,
    matchMedia("(forced-colors: active)").matches]"""
HELD = "() => [localStorage.length, sessionStorage.length]"


def test_a_page_that_is_taken_again_holds_nothing_of_who_was_there(
    kept_pages: KeptPages,
    under_way: RequestsUnderWay,
    live_server: LiveServer,
    sign_in: Callable[[BrowserContext, Member], None],
    crew: Member,
    draft: Draft,
) -> None:
    """Even where it tells its server of its end: a form refused then comes back with a cookie, late."""
    options = {"viewport": DESK, "base_url": live_server.url, "service_workers": "block"}
    page = kept_pages.take(options)
    sign_in(page.context, crew)
    page.goto(script_of(draft))
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    page.evaluate("() => { localStorage.setItem('kept', 'words'); sessionStorage.setItem('kept', 'words'); }")
    page.evaluate(TELLS_AS_IT_IS_LEFT)
    kept_pages.put_back(page, options)
    assert under_way.wait(PATIENCE_MS / 1000)
    again = kept_pages.take(options)
    assert again is page
    assert again.context.cookies() == []
    assert again.evaluate(HELD) == [0, 0]
    kept_pages.put_back(again, options)


def test_a_page_that_is_taken_again_is_shown_as_it_is_asked_for_then(
    kept_pages: KeptPages, live_server: LiveServer
) -> None:
    """Whatever the test before it made of its size, its scheme of colours and its medium."""
    options = {"base_url": live_server.url, "service_workers": "block"}
    by_night = options | {"viewport": PHONE, "color_scheme": "dark", "reduced_motion": "reduce"}
    page = kept_pages.take(by_night)
    assert page.evaluate(SHOWN) == [*PHONE.values(), True, True, False, False]
    page.emulate_media(media="print", forced_colors="active")
    kept_pages.put_back(page, by_night)
    again = kept_pages.take(options | {"viewport": DESK})
    assert again is page
    assert again.evaluate(SHOWN) == [*DESK.values(), False, False, False, False]
    kept_pages.put_back(again, options)
