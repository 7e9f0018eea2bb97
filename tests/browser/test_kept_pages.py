"""That a page which one test leaves says nothing more, whatever it would tell its server as it is left."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.browser.conftest import DESK
from tests.browser.script_steps import script_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import BrowserContext, Page
    from pytest_django.live_server_helper import LiveServer

    from review.drafts.models import Draft
    from review.people.models import Member
    from tests.browser.pages import KeptPages

TELLS_AS_IT_IS_LEFT = """() => addEventListener("pagehide", () => {
    fetch("place/", { method: "POST", keepalive: true }).catch(() => {});
})"""


def test_a_page_that_is_put_back_sends_nothing_and_is_taken_without_a_cookie(
    kept_pages: KeptPages,
    live_server: LiveServer,
    sign_in: Callable[[BrowserContext, Member], None],
    crew: Member,
    draft: Draft,
) -> None:
    options = {"viewport": DESK, "base_url": live_server.url, "service_workers": "block", "locale": "en-GB"}
    page = kept_pages.take(options)
    sign_in(page.context, crew)
    page.goto(script_of(draft))
    page.evaluate(TELLS_AS_IT_IS_LEFT)
    answered: list[str] = []
    page.context.on("response", lambda response: answered.append(response.url))
    kept_pages.put_back(page, options)
    again: Page = kept_pages.take(options)
    assert again is page
    assert [url for url in answered if url.endswith("/place/")] == []
    assert page.context.cookies() == []
    kept_pages.put_back(page, options)
