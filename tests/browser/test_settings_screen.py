"""The settings of a production in a real browser."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.urls import reverse
from playwright.sync_api import expect

from review.productions.models import Production
from tests.browser.reach import DESK_BY_DAY_PHONE_BY_NIGHT, LOOKED_AT, shuts_nobody_out

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

    from review.drafts.models import Draft
    from review.people.models import Member

    Visit = Callable[..., Page]


def address(member: Member) -> str:
    return reverse("settings", args=[member.production.public_id])


def test_they_are_found_set_and_followed_by_the_pages(draft: Draft, writer: Member, visit: Visit) -> None:
    page = visit(writer, reverse("people", args=[writer.production.public_id]))
    page.get_by_role("link", name="Settings").click()
    page.get_by_label("A4").check()
    page.get_by_label("Revision colours").fill("White\nGrey")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_text("Saved.")).to_be_visible()
    page.goto(page.url.replace("/settings/", f"/drafts/{draft.number}/print/"))
    expect(page.get_by_text("1 page on A4")).to_be_visible()
    page.goto(page.url.replace(f"/drafts/{draft.number}/print/", "/drafts/new/"))
    page.get_by_label("Or pasted text").fill(draft.text + "\nAnd out.\n")
    page.get_by_role("button", name="See it as it will be").click()
    expect(page.get_by_label("Grey")).to_be_checked()


def test_every_state_is_accessible_and_fits(writer: Member, visit: Visit) -> None:
    page = visit(writer, address(writer), **LOOKED_AT)
    shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
    page.get_by_label("Language").fill("mostly English")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_text("is not a language tag")).to_be_visible()
    shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
    page.get_by_label("Language").fill("en")
    Production.objects.update(paper="a4", revision_colours=["White", "Grey"])
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("alert")).to_contain_text("saved other settings")
    shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
