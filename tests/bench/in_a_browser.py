"""By hand: what the script's page costs a browser, on 150 pages, with `serve` as it starts for everybody.

    .venv/bin/python -m tests.bench.in_a_browser
    CHROME_PATH=$(command -v chromium) .venv/bin/python -m tests.bench.in_a_browser --lighthouse "npx lighthouse"

Printed are the bytes that travel until the first page can be read, the longest frame while the whole script is
scrolled, and the time from Enter, on a line that one has come to, until there is a form with the cursor in it; then,
where its command is given, what Lighthouse makes of the page in its phone profile. Each is measured several times, and
the least counts: what else the machine does only ever adds.
"""

from __future__ import annotations

import argparse
import json
import os
import shlex
import subprocess
import sys
import tempfile
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser, BrowserContext, CDPSession, Page

KILOBYTE = 1000
REST_MS = 700  # on the line, before Enter
# Lighthouse 12's "slow 4G": 1.6 Mbit/s down, 750 kbit/s up, 150 ms there and back (from memory of its constants).
PHONE_LINE = {"offline": False, "downloadThroughput": 200_000, "uploadThroughput": 93_750, "latency": 150}
PHONE = {"width": 390, "height": 844}
CATEGORIES = ("performance", "accessibility", "best-practices")
AUDITS = ("first-contentful-paint", "largest-contentful-paint", "total-blocking-time", "cumulative-layout-shift")
# Scrolls from the head of the script to its foot as a reader's hand does, and gives the times of all frames, in ms.
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

# Notes down when a key is pressed, and when a note's form has the cursor and is about to be painted.
TIMED = """() => {
    addEventListener("keydown", () => (globalThis.pressed = performance.now()), { capture: true, once: true });
    const noteDown = () => (globalThis.ready = performance.now());
    document.addEventListener("focusin", ({ target }) => {
        if (target.matches("#note-form textarea")) requestAnimationFrame(noteDown);
    });
}"""


@dataclass(frozen=True)
class Place:
    """A running server, the cookie of somebody who is signed in there, and the addresses of scripts by name."""

    url: str
    cookie: str
    scripts: dict[str, str]


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--lighthouse", default="", metavar="COMMAND", help="how Lighthouse is started")
    asked.add_argument("--tries", type=int, default=3, metavar="NUMBER", help="how often each is measured (3)")
    options = asked.parse_args()
    with tempfile.TemporaryDirectory() as folder, served(Path(folder)) as place:
        measure_in_a_browser(place, options.tries)
        if options.lighthouse:
            for name, address in place.scripts.items():
                say_lighthouse(shlex.split(options.lighthouse), place, name, address, options.tries)


@contextmanager
def served(folder: Path) -> Iterator[Place]:
    """A server of its own with a script of 150 pages, once with 200 notes and once with a thousand, and the demo."""
    from tests import servers

    servers.PATIENCE = 600  # seconds: the demo is put in, and a busy machine is waited for
    with servers.serving(folder, "--demo") as server:
        server.wait_for("The demo is loaded")
        server.wait_until_it_answers()
        os.environ["FAIRHAND_DATA"] = str(folder)
        cookie, scripts = put_in()
        yield Place(f"http://127.0.0.1:{server.port}", cookie, scripts)


def put_in() -> tuple[str, dict[str, str]]:
    import django

    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "project.settings")
    django.setup()
    from django.test import Client
    from django.urls import reverse

    from review.access import Role
    from review.drafts.models import Draft
    from review.people.models import Department
    from tests.bench.long_script import leave_notes, long_script
    from tests.factories import make_draft, make_member, make_production

    writer = make_member(make_production("The long one"), Role.WRITER, Department.WRITING, "Ada Wren")
    demo = Draft.objects.exclude(production=writer.production).order_by("-number").first()
    assert demo is not None
    make_member(demo.production, Role.WRITER, Department.WRITING, person=writer.person)
    scripts = {"the demo": reverse("script", args=[demo.production.public_id, demo.number])}
    text = long_script()
    for number, notes in ((1, 200), (2, 1000)):
        draft = make_draft(writer, text, number)
        leave_notes(writer, draft, notes)
        scripts[f"{notes} notes"] = reverse("script", args=[writer.production.public_id, number])
    client = Client()
    client.force_login(writer.person, backend="allauth.account.auth_backends.AuthenticationBackend")
    return client.cookies["sessionid"].value, scripts


def measure_in_a_browser(place: Place, tries: int) -> None:
    from playwright.sync_api import sync_playwright

    from tests.browser.conftest import QUIET, find_chromium

    path = find_chromium()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=list(QUIET))
        for name, address in place.scripts.items():
            readable, whole = min(bytes_travelled(browser, place, address) for _ in range(tries))
            say(f"{name}: {readable / KILOBYTE:.0f} kB until the first page can be read, {whole / KILOBYTE:.0f} in all")
        frames = [frame_times(browser, place, place.scripts["200 notes"]) for _ in range(tries)]
        quietest = min(frames, key=max)
        late = sum(time > 50 for time in quietest)
        say(f"200 notes: the longest of {len(quietest)} frames {max(quietest):.0f} ms, {late} over 50")
        form = min(time_to_form(browser, place, place.scripts["1000 notes"]) for _ in range(tries))
        say(f"1000 notes: a form to write in {form:.0f} ms after Enter on a line")
        browser.close()


@contextmanager
def signed_in(browser: Browser, place: Place) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport=PHONE, is_mobile=True, has_touch=True, base_url=place.url)  # type: ignore[arg-type]
    context.add_cookies([{"name": "sessionid", "value": place.cookie, "url": place.url}])
    yield context
    context.close()


def bytes_travelled(browser: Browser, place: Place, address: str) -> tuple[float, float]:
    """What has come by the first painting of the script's words, with a browser that has nothing yet, on the line that
    Lighthouse's phone profile has; and in all."""
    with signed_in(browser, place) as context:
        page = context.new_page()
        session: CDPSession = context.new_cdp_session(page)
        begun: list[float] = []
        came: list[tuple[float, float]] = []
        session.on("Network.requestWillBeSent", lambda event: begun.append(event["timestamp"]))
        session.on("Network.dataReceived", lambda event: came.append((event["timestamp"], event["encodedDataLength"])))
        session.send("Network.enable")
        session.send("Network.emulateNetworkConditions", PHONE_LINE)
        page.goto(address, wait_until="networkidle")
        painted = page.evaluate("performance.getEntriesByName('first-contentful-paint')[0].startTime") / 1000
        return sum(size for at, size in came if at <= begun[0] + painted), sum(size for _, size in came)


def frame_times(browser: Browser, place: Place, address: str) -> list[float]:
    with signed_in(browser, place) as context:
        page = context.new_page()
        page.goto(f"{address}#page-1", wait_until="networkidle")
        times: list[float] = page.evaluate(SCROLLING)
        return times


def time_to_form(browser: Browser, place: Place, address: str) -> float:
    with signed_in(browser, place) as context:
        page: Page = context.new_page()
        page.goto(address, wait_until="networkidle")
        line = page.locator("#page-3 [id^=L]").nth(6)
        line.focus()
        page.wait_for_timeout(REST_MS)
        page.evaluate(TIMED)
        page.keyboard.press("Enter")
        page.wait_for_function("() => globalThis.ready")
        return float(page.evaluate("globalThis.ready - globalThis.pressed"))


def say_lighthouse(command: list[str], place: Place, name: str, address: str, tries: int) -> None:
    """The scores out of 100 of the quietest of several runs, and what the performance is made of."""
    runs = [run_lighthouse(command, place, address) for _ in range(tries)]
    best = max(runs, key=lambda run: float(run["categories"]["performance"]["score"] or 0))  # type: ignore[index]
    scores = {each: round(100 * (best["categories"][each]["score"] or 0)) for each in CATEGORIES}  # type: ignore[index]
    say(f"Lighthouse, phone, {name}: " + ", ".join(f"{each} {score}" for each, score in scores.items()))
    say("  " + ", ".join(f"{each} {best['audits'][each]['displayValue']}" for each in AUDITS))  # type: ignore[index]
    for audit in best["audits"].values():  # type: ignore[attr-defined]
        if audit["score"] == 0 and audit["scoreDisplayMode"] == "binary":
            say(f"  not kept: {audit['title']}")


def run_lighthouse(command: list[str], place: Place, address: str) -> dict[str, object]:
    run = subprocess.run(
        [
            *command,
            place.url + address,
            "--quiet",
            "--output=json",
            f"--only-categories={','.join(CATEGORIES)}",
            f"--extra-headers={json.dumps({'Cookie': f'sessionid={place.cookie}'})}",
            "--chrome-flags=--headless=new --no-sandbox --disable-gpu",
        ],
        capture_output=True,
        text=True,
        check=True,
    )
    found: dict[str, object] = json.loads(run.stdout)
    return found


def say(figure: str) -> None:
    sys.stdout.write(f"{figure}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
