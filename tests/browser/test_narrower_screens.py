"""What stands side by side on a wide screen, on narrower ones: the bar at the top, and a page beside its text."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

from django.urls import reverse

from review.rewriting.acts import begin_working
from tests.factories import make_draft

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

    from review.people.models import Member

LONGEST = "A rope of sixty signs runs over the quay to the boat and back"  # 61 columns: a whole row of action
BAR = """() => [".top-name", ".top-production", ".top-nav", ".top-person"].map((part) => {
    const { left, right, top, bottom } = document.querySelector(part).getBoundingClientRect();
    return { left, right, middle: (top + bottom) / 2 };
})"""
TOO_WIDE = """() => [document.documentElement, ...document.querySelectorAll(".writing-leaf")].some(
    (part) => part.scrollWidth > part.clientWidth)"""


def test_the_bar_keeps_to_its_row_and_the_page_to_its_column(visit: Callable[..., Page], writer: Member) -> None:
    writer.person.name = "Wilhelmina Featherstonehaugh-Cholmondeley"
    writer.person.save()
    writer.production.name = "The Lighthouse Keeper and the Drowned Orchard"
    writer.production.save()
    draft = make_draft(writer, f"INT. BOATHOUSE - NIGHT #118A#\n\n{LONGEST} {LONGEST}\n")
    scene = begin_working(writer, draft, uuid.uuid4()).scenes.get(position=1)
    page = visit(writer, reverse("working-scene", args=[writer.production.public_id, scene.public_id]))
    for width, text, rows in (
        (1440, "100%", 1),
        (1366, "100%", 1),
        (1280, "100%", 1),
        (1280, "200%", 1),
        (1024, "100%", 1),
        (820, "100%", 2),
    ):
        page.set_viewport_size({"width": width, "height": 768})
        page.evaluate("(text) => { document.documentElement.style.fontSize = text }", text)
        name, production, nav, person = page.evaluate(BAR)
        told = f"{width} pixels, text at {text}"
        assert len({round(part["middle"]) for part in (name, production, person)}) == 1, told
        assert (abs(nav["middle"] - name["middle"]) < 2) == (rows == 1), told
        assert name["right"] < production["left"] < person["left"] < person["right"] <= width, told
        assert width - person["right"] < 64, told
        assert not page.evaluate(TOO_WIDE), told
    page.set_viewport_size({"width": 1440, "height": 768})
    page.locator(".top-production").evaluate("(name) => { name.textContent = 'The Drowned Orchard' }")
    person = page.locator(".top-person-name")
    person.evaluate("(name) => { name.textContent = 'Ilse Marchetti-Øvergaard' }")
    assert person.evaluate("(name) => name.scrollWidth <= name.clientWidth")
    make_draft(writer, f"EXT. SLIPWAY - DAY\n\nMist.\n\n{draft.text}", 2)
    make_draft(writer, f"{draft.text}\nEXT. SLIPWAY - DAY\n\nMist.\n", 3)
    page.goto(reverse("changes-between", args=[writer.production.public_id, 2, 3]))
    page.set_viewport_size({"width": 390, "height": 844})
    page.evaluate("(text) => { document.documentElement.style.fontSize = text }", "200%")
    assert page.locator(".change-counts").evaluate("(counts) => counts.scrollWidth <= counts.clientWidth")
    assert not page.evaluate(TOO_WIDE)
