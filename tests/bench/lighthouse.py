"""What Lighthouse makes of a page in its phone profile, for somebody who is signed in."""

from __future__ import annotations

import json
import subprocess
import tempfile
from typing import TYPE_CHECKING, Any

from tests.servers import free_port

if TYPE_CHECKING:
    from playwright.sync_api import BrowserType

    from tests.bench.served_scripts import ServedScripts

CATEGORIES = ("performance", "accessibility", "best-practices")
AUDITS = ("first-contentful-paint", "largest-contentful-paint", "total-blocking-time", "cumulative-layout-shift")


def best_run(
    command: list[str],
    chromium: BrowserType,
    path: str,
    flags: list[str],
    place: ServedScripts,
    address: str,
    tries: int,
) -> list[str]:
    """The scores out of 100 of the quietest of several runs, and what the performance is made of, line by line."""
    runs = [_run(command, chromium, path, flags, place, address) for _ in range(tries)]
    best = max(runs, key=lambda run: float(run["categories"]["performance"]["score"] or 0))
    scores = {each: round(100 * (best["categories"][each]["score"] or 0)) for each in CATEGORIES}
    lines = [", ".join(f"{each} {score}" for each, score in scores.items())]
    lines.append("  " + ", ".join(f"{each} {best['audits'][each]['displayValue']}" for each in AUDITS))
    lines.append(f"  how fast it found the machine: {best['environment']['benchmarkIndex']:.0f}")
    audits = [audit for audit in best["audits"].values() if audit["scoreDisplayMode"] == "binary"]
    return lines + [f"  not kept: {audit['title']}" for audit in audits if audit["score"] == 0]


def _run(
    command: list[str], chromium: BrowserType, path: str, flags: list[str], place: ServedScripts, address: str
) -> dict[str, Any]:
    """One run, in a browser that has nothing yet but the cookie: one sent as a header is not sent by the page's own
    scripts."""
    port = free_port()
    with tempfile.TemporaryDirectory() as profile:
        context = chromium.launch_persistent_context(
            profile, executable_path=path, args=[*flags, f"--remote-debugging-port={port}"]
        )
        context.add_cookies([place.signed_in])  # type: ignore[list-item]
        try:
            run = subprocess.run(
                [
                    *command,
                    place.url + address,
                    f"--port={port}",
                    "--disable-storage-reset",
                    "--quiet",
                    "--output=json",
                    f"--only-categories={','.join(CATEGORIES)}",
                ],
                capture_output=True,
                text=True,
                check=True,
            )
        finally:
            context.close()
    found: dict[str, Any] = json.loads(run.stdout)
    return found
