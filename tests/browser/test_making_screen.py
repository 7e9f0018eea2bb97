"""Something that is being made, watched in a real browser: it says how far it is, and is taken once it is there."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from django.http import HttpResponse
from django.urls import reverse
from playwright.sync_api import expect

from review.access import Deed
from review.making.acts import begin_making, keep_answer, say_it_was_given_up
from review.making.progress import making_of, tell
from tests.browser.reach import LOOKED_AT, LOOKS, shuts_nobody_out

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

    from review.making.models import Making
    from review.people.models import Member

    Visit = Callable[..., Page]


TILL_ASKED_MS = 1000


@pytest.fixture
def making(writer: Member) -> Making:
    back = reverse("drafts", args=[writer.production.public_id])
    return begin_making(writer, Deed.READ, "/somewhere/", "Draft 2 as a PDF", back, is_sent=False)[0]


def place_of(making: Making) -> str:
    return reverse("making", args=[making.production.public_id, making.public_id])


def test_a_page_that_waits_goes_on_to_what_was_made(visit: Visit, writer: Member, making: Making) -> None:
    page = visit(writer, place_of(making), own_clock=True)
    expect(page.get_by_role("status")).to_contain_text("It waits for its turn.")
    with making_of(making):
        tell("Its pages are set", 3, 120)
    page.clock.fast_forward(TILL_ASKED_MS)
    expect(page.get_by_role("status")).to_contain_text("Its pages are set: 3 of 120.")
    keep_answer(making, HttpResponse("<h1>Here it is</h1>"))
    page.clock.fast_forward(TILL_ASKED_MS)
    expect(page.get_by_role("heading", name="Here it is")).to_be_visible()


def test_every_state_is_accessible_and_fits(visit: Visit, writer: Member, making: Making) -> None:
    with making_of(making):
        tell("Its pages are set", 40, 120)
    page = visit(writer, place_of(making), **LOOKED_AT)
    shuts_nobody_out(page, LOOKS)
    say_it_was_given_up(making)
    expect(page.get_by_role("alert")).to_contain_text("it was given up")
    shuts_nobody_out(page, LOOKS)
