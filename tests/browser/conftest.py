"""A real browser for the tests of this folder: the system's Chromium, or the one that playwright brought."""

from __future__ import annotations

import os
import shutil
from pathlib import Path
from typing import TYPE_CHECKING, Any

import axe_playwright_python
import pytest
from django.conf import settings
from django.test import Client
from playwright.sync_api import Error, expect, sync_playwright

from review.access import Role
from review.people.models import Department
from tests.browser.pages import KeptPages
from tests.browser.under_way import RequestsUnderWay
from tests.factories import make_draft, make_member, make_production

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from playwright.sync_api import Browser, BrowserContext, Page
    from pytest_django.live_server_helper import LiveServer

    from review.drafts.models import Draft
    from review.people.models import Member

# What looks at the screens is one of the site's scripts here: a browser keeps those compiled.
settings.STATICFILES_DIRS = [*settings.STATICFILES_DIRS, ("axe", Path(axe_playwright_python.__file__).parent)]

# Playwright's own event loop runs in the tests' thread, where Django would refuse to touch the database.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"

NAMES = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome-stable", "google-chrome")
# A page has the frame of what was there before it, of the same site, which spares a fifth of the work of its load. This
# takes the place of what playwright itself leaves off: whatever of that changes how pages behave follows.
LEFT_OFF = (
    "RenderDocument",
    "AvoidCorsURLLoaderRestartOnRedirect",
    "AvoidUnnecessaryBeforeUnloadCheckSync",
    "DestroyProfileOnBrowserClose",
    "HttpsFirstBalancedModeAutoEnable",
    "HttpsUpgrades",
    "PaintHolding",
    "ThirdPartyStoragePartitioning",
)
QUIET = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    f"--disable-features={','.join(LEFT_OFF)}",
)
MISSING = "No Chromium was found: install it, or run `python -m playwright install chromium`."
DESK = {"width": 1440, "height": 1000}
PHONE = {"width": 390, "height": 844}
TOUCH = {"viewport": PHONE, "has_touch": True, "is_mobile": True}
PATIENCE_MS = 10_000

expect.set_options(timeout=PATIENCE_MS)


def find_chromium() -> str | None:
    """The path of a Chromium on this machine, or None."""
    on_path = next((path for path in map(shutil.which, NAMES) if path), None)
    return on_path or _playwrights_own()


def _playwrights_own() -> str | None:
    try:
        with sync_playwright() as playwright:
            path = playwright.chromium.executable_path
    except Error:
        return None
    return path if Path(path).exists() else None


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args: dict[str, Any]) -> dict[str, Any]:
    """How the browser starts. Without one these tests are skipped, and fail where a continuous check (CI) runs them."""
    path = find_chromium()
    if path is None:
        (pytest.fail if os.environ.get("CI") else pytest.skip)(MISSING)
    return {**browser_type_launch_args, "executable_path": path, "args": list(QUIET)}


@pytest.fixture
def writer(transactional_db: None) -> Member:
    return make_member(make_production(), Role.WRITER, Department.WRITING, "Ada Wren")


@pytest.fixture
def crew(writer: Member) -> Member:
    return make_member(writer.production, Role.CREW, Department.CAMERA, "Bo Finch")


@pytest.fixture
def draft(writer: Member) -> Draft:
    return make_draft(writer)


@pytest.fixture
def sign_in(live_server: LiveServer) -> Callable[[BrowserContext, Member], None]:
    """Signs a browser context in as a member, by the cookie of a session."""

    def sign_in(context: BrowserContext, member: Member) -> None:
        client = Client()
        client.force_login(member.person, backend="allauth.account.auth_backends.AuthenticationBackend")
        cookie = {"name": "sessionid", "value": client.cookies["sessionid"].value, "url": live_server.url}
        context.add_cookies([cookie])  # type: ignore[list-item]

    return sign_in


@pytest.fixture(scope="session")
def kept_pages(browser: Browser) -> Iterator[KeptPages]:
    pages = KeptPages(browser)
    yield pages
    pages.close()


@pytest.fixture(scope="session")
def under_way() -> Iterator[RequestsUnderWay]:
    requests = RequestsUnderWay()
    yield requests
    requests.close()


@pytest.fixture
def visit(
    request: pytest.FixtureRequest,
    kept_pages: KeptPages,
    under_way: RequestsUnderWay,
    live_server: LiveServer,
    sign_in: Callable[[BrowserContext, Member], None],
) -> Iterator[Callable[..., Page]]:
    """Opens an address of the server as a member, or signed out; a script's error fails the test.

    There is no service worker unless a test asks for it: what passes through one is out of the reach of `page.route`.
    Whoever puts the page's clock forward, so as not to wait for a timer, says `own_clock=True`. The next test is shown
    the same page: what that would not undo (a listener, a script for whatever comes) a test takes back itself. One that
    fails may not have come to that, and its page goes with it.
    """
    kept_pages.errors.clear()
    failed_before = request.session.testsfailed
    shown: list[tuple[Page, dict[str, Any]]] = []

    def visit(member: Member | None, address: str, **options: Any) -> Page:
        preset = {"viewport": DESK, "base_url": live_server.url, "reduced_motion": "reduce", "service_workers": "block"}
        wanted = preset | options
        page = kept_pages.take(wanted)
        shown.append((page, wanted))
        if member:
            sign_in(page.context, member)
        page.goto(address)
        return page

    yield visit
    has_failed = request.session.testsfailed > failed_before
    for page, wanted in shown:
        if wanted["service_workers"] == "block" and not page.is_closed() and not has_failed:
            kept_pages.put_back(page, wanted)
        else:
            kept_pages.end(page)
    assert under_way.wait(PATIENCE_MS / 1000)
    assert not kept_pages.errors
