"""That what looks at every screen sees what it is there to see."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.browser.reach import LOOKS, show_in, what_shuts_out, width_needed

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

    from review.people.models import Member

PAGE = """<!doctype html><html lang="en"><title>Slack Water</title><main><h1>Slack Water</h1>
<p>Tide turns at four.</p><p>Then we go at three.</p><p id="pale" style="color: #bbb">He didn't wait.</p>
<div style="background: #444"><p id="lost">Mist.</p></div>
<label for="which">Which</label>
<select id="which" size="2" style="color: #ccc; background: #fff"><option>One</option></select></main></html>"""
WIDE = """<!doctype html><html lang="en"><title>Slack Water</title><main><h1>Slack Water</h1>
<button style="width: 2000px"></button></main></html>"""


def test_every_text_is_held_against_its_own_ground(crew: Member, visit: Callable[..., Page]) -> None:
    page = visit(crew, "/", **LOOKS["desk-light"])
    page.set_content(PAGE)
    _, found = what_shuts_out(page).splitlines()
    assert found.startswith("color-contrast (serious)")
    assert found.endswith(": #pale; #lost; #which")


def test_what_has_no_name_and_what_is_too_wide_is_told(crew: Member, visit: Callable[..., Page]) -> None:
    page = visit(crew, "/", **LOOKS["desk-light"])
    page.set_content(WIDE)
    found = what_shuts_out(page)
    assert "button-name (critical)" in found
    assert found.endswith("it is wider than the screen")


def test_a_page_that_is_measured_and_not_seen_is_as_wide_as_what_is_on_it(
    crew: Member, visit: Callable[..., Page]
) -> None:
    page = visit(crew, "/", **LOOKS["desk-light"])
    page.set_content(WIDE)
    assert width_needed(page, 320, "100%") > 2000
    page.set_content(WIDE.replace("2000px", "10rem"))
    assert width_needed(page, 320, "100%") == 320
    assert width_needed(page, 320, "200%") > 320
    show_in(page, "desk-light")
