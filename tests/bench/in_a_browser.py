"""By hand: what the script's page costs a browser, on 150 pages, with `serve` as it starts for everybody.

    .venv/bin/python -m tests.bench.in_a_browser
    .venv/bin/python -m tests.bench.in_a_browser --lighthouse "npx lighthouse"

Printed are the bytes that travel until the first page can be read; the longest frame while the whole script is
scrolled, and how long the page kept the processor at the most; and the time from Enter, on a line that one has come to,
until there is a form with the cursor in it. The last three stand beside what they are on a bare page, which tells what
the machine adds. Then, where its command is given, what Lighthouse makes of the page in its phone profile. Each is
measured several times, and the least counts: what else the machine does only ever adds.
"""

from __future__ import annotations

import argparse
import shlex
import sys
import tempfile
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tests.bench.served_scripts import MANY_NOTES, SOME_NOTES, served

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser, Page, Playwright

    from tests.bench.served_scripts import ServedScripts

KILOBYTE = 1000
LONG_FRAME_MS = 50
REST_MS = 700  # on the line, before Enter
# Lighthouse 12's "slow 4G": 1.6 Mbit/s down, 750 kbit/s up, 150 ms there and back (from memory of its constants).
PHONE_LINE = {"offline": False, "downloadThroughput": 200_000, "uploadThroughput": 93_750, "latency": 150}
PHONE = {"width": 390, "height": 844}
# What a browser counts of everything that came, the page first: when it began to come, and its bytes on the line.
CAME = """[...performance.getEntriesByType("navigation"), ...performance.getEntriesByType("resource")]
    .map(({ responseStart, transferSize }) => [responseStart, transferSize])"""
PAINTED = "performance.getEntriesByName('first-contentful-paint')[0].startTime"
# Scrolls from the head of the page to its foot as a reader's hand does, and gives the times of all frames, in ms.
SCROLLING = """async () => {
    const times = [];
    const step = innerHeight / 2;
    let before = await new Promise(requestAnimationFrame);
    while (scrollY + innerHeight < document.documentElement.scrollHeight - 2) {
        scrollBy({ top: step, behavior: "instant" });
        const now = await new Promise(requestAnimationFrame);
        times.push(now - before);
        before = now;
    }
    return times;
}"""
BARE = """<!doctype html><meta name="viewport" content="width=device-width">
<style>body { height: %dpx; background: linear-gradient(white, gray) }</style><textarea></textarea>"""
# On the bare page Enter puts the cursor into a field that was there all along.
BARE_FORM = "() => addEventListener('keydown', () => document.querySelector('textarea').focus(), { once: true })"
# Notes down when a key is pressed, and when a form's field has the cursor and is about to be painted.
TIMED = """() => {
    addEventListener("keydown", () => (globalThis.pressed = performance.now()), { capture: true, once: true });
    const noteDown = () => (globalThis.ready = performance.now());
    document.addEventListener("focusin", ({ target }) => {
        if (target.matches("textarea")) requestAnimationFrame(noteDown);
    });
}"""


def main() -> None:
    from playwright.sync_api import sync_playwright

    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--lighthouse", default="", metavar="COMMAND", help="how Lighthouse is started")
    asked.add_argument("--tries", type=int, default=3, metavar="NUMBER", help="how often each is measured (3)")
    options = asked.parse_args()
    with tempfile.TemporaryDirectory() as folder, served(Path(folder)) as place, sync_playwright() as playwright:
        measure_in_a_browser(playwright, place, options.tries)
        if options.lighthouse:
            say_lighthouse(playwright, shlex.split(options.lighthouse), place, options.tries)


def measure_in_a_browser(playwright: Playwright, place: ServedScripts, tries: int) -> None:
    from tests.browser.conftest import QUIET, find_chromium

    browser = playwright.chromium.launch(executable_path=find_chromium(), args=list(QUIET))
    for name, address in place.scripts.items():
        readable, whole = min(bytes_travelled(browser, place, address) for _ in range(tries))
        say(f"{name}: {readable / KILOBYTE:.0f} kB until the first page can be read, {whole / KILOBYTE:.0f} in all")
    scrolled = [scroll(browser, place, place.scripts[SOME_NOTES]) for _ in range(tries)]
    for what, runs in (("the script", [own for own, _ in scrolled]), ("a bare page", [bare for _, bare in scrolled])):
        frames, _ = min(runs, key=lambda run: max(run[0]))
        late = sum(time > LONG_FRAME_MS for time in frames)
        held = min(longest for _, longest in runs)
        say(
            f"{SOME_NOTES}, {what}: the longest of {len(frames)} frames {max(frames):.0f} ms, {late} over "
            f"{LONG_FRAME_MS}; the processor kept for {held:.0f} ms at the most"
        )
    forms = [times_to_form(browser, place, place.scripts[MANY_NOTES]) for _ in range(tries)]
    own, bare = (min(times) for times in zip(*forms, strict=True))
    say(f"{MANY_NOTES}: a form to write in {own:.0f} ms after Enter on a line; on a bare page {bare:.0f} ms")
    browser.close()


@contextmanager
def signed_in(browser: Browser, place: ServedScripts) -> Iterator[Page]:
    """A page of a phone's browser that has nothing yet."""
    context = browser.new_context(viewport=PHONE, is_mobile=True, has_touch=True, base_url=place.url)  # type: ignore[arg-type]
    context.add_cookies([place.signed_in])  # type: ignore[list-item]
    yield context.new_page()
    context.close()


def bytes_travelled(browser: Browser, place: ServedScripts, address: str) -> tuple[float, float]:
    """The most that can have come by the first painting of the script's words, on the line that Lighthouse's phone
    profile has: whatever had begun to come by then counts whole. And what came in all."""
    with signed_in(browser, place) as page:
        page.context.new_cdp_session(page).send("Network.emulateNetworkConditions", PHONE_LINE)
        page.goto(address, wait_until="networkidle")
        came, painted = page.evaluate(CAME), page.evaluate(PAINTED)
        return sum(size for begun, size in came if begun <= painted), sum(size for _, size in came)


def scroll(
    browser: Browser, place: ServedScripts, address: str
) -> tuple[tuple[list[float], float], tuple[list[float], float]]:
    """The script scrolled through, and a bare page of its height: the times of the frames, and the longest task."""
    with signed_in(browser, place) as page:
        page.goto(f"{address}#page-1", wait_until="networkidle")
        own = traced(page)
        height = page.evaluate("document.documentElement.scrollHeight")
        page.goto("about:blank")
        page.set_content(BARE % height)
        return own, traced(page)


def traced(page: Page) -> tuple[list[float], float]:
    """The times of the frames while the page is scrolled, and the longest of the page's tasks by the processor's clock,
    which stands while others have the processor; in ms."""
    session = page.context.new_cdp_session(page)
    events: list[dict[str, Any]] = []
    session.on("Tracing.dataCollected", lambda part: events.extend(part["value"]))
    done: list[bool] = []
    session.on("Tracing.tracingComplete", lambda _: done.append(True))
    session.send("Tracing.start", {"traceConfig": {"includedCategories": ["toplevel"]}})
    frames: list[float] = page.evaluate(SCROLLING)
    session.send("Tracing.end")
    while not done:
        page.wait_for_timeout(100)
    mains = {
        (event["pid"], event["tid"])
        for event in events
        if event["name"] == "thread_name" and event["args"]["name"] == "CrRendererMain"
    }
    tasks = [event["tdur"] for event in events if "tdur" in event and (event["pid"], event["tid"]) in mains]
    return frames, max(tasks) / 1000


def times_to_form(browser: Browser, place: ServedScripts, address: str) -> tuple[float, float]:
    """From Enter to a form with the cursor in it, on a line of the script and on a bare page, in ms."""
    with signed_in(browser, place) as page:
        page.goto(address, wait_until="networkidle")
        page.locator("#page-3 [id^=L]").nth(6).focus()
        page.wait_for_timeout(REST_MS)
        own = time_to_form(page)
        page.goto("about:blank")
        page.set_content(BARE % PHONE["height"])
        page.evaluate(BARE_FORM)
        return own, time_to_form(page)


def time_to_form(page: Page) -> float:
    page.evaluate(TIMED)
    page.keyboard.press("Enter")
    page.wait_for_function("() => globalThis.ready")
    return float(page.evaluate("globalThis.ready - globalThis.pressed"))


def say_lighthouse(playwright: Playwright, command: list[str], place: ServedScripts, tries: int) -> None:
    from tests.bench.lighthouse import best_run
    from tests.browser.conftest import QUIET, find_chromium

    path = find_chromium()
    assert path is not None
    for name, address in place.scripts.items():
        for line in best_run(command, playwright.chromium, path, list(QUIET), place, address, tries):
            say(line if line.startswith(" ") else f"Lighthouse, phone, {name}: {line}")


def say(figure: str) -> None:
    sys.stdout.write(f"{figure}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
