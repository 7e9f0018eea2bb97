"""Pages of a browser that one test after another is shown: each finds its page as good as new, but for the site's
scripts, styles and typefaces, which the browser has by then, as on anybody's second visit."""

from __future__ import annotations

import json
from collections import defaultdict
from contextlib import suppress
from typing import TYPE_CHECKING, Any

from playwright.sync_api import Error

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

FORGET = """async () => {
    localStorage.clear();
    sessionStorage.clear();
    for (const name of await caches.keys()) await caches.delete(name);
}"""
OWN_CLOCK = "own_clock"
# What a page is shown in. A page can be given it at any time, and a context for each would cost a process of its own.
SHOWN_IN = ("color_scheme", "reduced_motion")
VIEWPORT = "viewport"


def leave(page: Page) -> None:
    """Go away from a page without a connection, so that it hardly sends anything as it is left: that would be
    answered as whoever is signed in by then, or, late, with a cookie that the next test's pages do not know of.

    The page goes by itself: the empty one is then of the same site, has its storage, and needs no process of its own.
    """
    page.context.set_offline(True)
    page.evaluate("location.replace('about:blank')")
    page.wait_for_url("about:blank")
    page.context.set_offline(False)


class KeptPages:
    """A page and its context for each set of options at a time, and what went wrong in the scripts of any of them.

    The options are the browser's, and `own_clock`: the page's timers go by a clock that its test may put forward. It
    shows the hour again to whoever has the page next. A new page takes twice the work of one that was kept, so whatever
    a kept one can be given (its size, its looks) asks for no other.
    """

    def __init__(self, browser: Browser) -> None:
        self.errors: list[str] = []
        self._browser = browser
        self._waiting: dict[str, list[Page]] = defaultdict(list)

    def take(self, options: dict[str, Any]) -> Page:
        waiting = self._waiting[_named(options)]
        if not waiting:
            return self.make(options)
        page = waiting.pop()
        page.context.clear_cookies()  # by now, whatever was under way as it was left has been answered
        page.context.clear_permissions()
        if options.get(OWN_CLOCK):
            page.clock.install()
        show(page, options)
        return page

    def make(self, options: dict[str, Any]) -> Page:
        page = self._browser.new_context(**_of_its_context(options)).new_page()
        if options.get(OWN_CLOCK):
            page.clock.install()
        page.on("pageerror", lambda error: self.errors.append(str(error)))
        page.on("console", lambda said: self.errors.append(said.text) if "Security Policy" in said.text else None)
        show(page, options)
        return page

    def put_back(self, page: Page, options: dict[str, Any]) -> None:
        """To be taken again, by whoever asks for one with the same options."""
        try:
            page.unroute_all(behavior="ignoreErrors")
            leave(page)
            page.evaluate(FORGET)
        except Error:
            page.context.close()
        else:
            self._waiting[_named(options)].append(page)

    def end(self, page: Page) -> None:
        """Without a connection, so that it sends nothing more."""
        with suppress(Error):  # one that its test has closed itself
            page.context.set_offline(True)
        page.context.close()

    def close(self) -> None:
        for waiting in self._waiting.values():
            for page in waiting:
                page.context.close()


def show(page: Page, options: dict[str, Any]) -> None:
    """A page at the size and in the looks it is to have, whatever it was shown in before."""
    if VIEWPORT in options:
        page.set_viewport_size(options[VIEWPORT])
    looks: dict[str, Any] = {name: options.get(name, "null") for name in SHOWN_IN}
    page.emulate_media(**looks, media="null", forced_colors="null")


def _of_its_context(options: dict[str, Any]) -> dict[str, Any]:
    return {name: options[name] for name in options if name not in {OWN_CLOCK, VIEWPORT, *SHOWN_IN}}


def _named(options: dict[str, Any]) -> str:
    return json.dumps({**_of_its_context(options), OWN_CLOCK: options.get(OWN_CLOCK, False)}, sort_keys=True)
