"""Locking pages and taking the changed ones to swap, in a real browser."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from django.urls import reverse
from playwright.sync_api import expect

from review.drafts.numbering import lock_numbers
from tests.browser.reach import DESK_BY_DAY_PHONE_BY_NIGHT, in_looks, shuts_nobody_out
from tests.pdf import page_labels
from tests.review.locked_film import GROWN, WHOLE, put_up

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

    from review.people.models import Member

    Visit = Callable[..., Page]


@in_looks(*DESK_BY_DAY_PHONE_BY_NIGHT)
def test_pages_are_locked_and_the_changed_ones_taken_and_it_shuts_nobody_out(
    writer: Member, visit: Visit, look: dict[str, Any]
) -> None:
    put_up(writer, WHOLE)
    lock_numbers(writer, 1)
    page = visit(writer, reverse("locked-pages", args=[writer.production.public_id]), **look)
    page.get_by_role("button", name="Lock the pages").click()
    expect(page.get_by_text("The pages are locked.")).to_be_visible()
    put_up(writer, GROWN)
    page.reload()
    expect(page.get_by_text("begins page 3")).to_be_visible()
    shuts_nobody_out(page)

    page.goto(reverse("script", args=[writer.production.public_id, 2]))
    expect(page.get_by_text("4 pages", exact=True)).to_be_visible()
    expect(page.locator("[data-reach-page]")).to_have_text("Page 1 of 4")  # 1, 2, 2A and 3

    page.goto(page.url.replace("script/", "revised-pages/"))
    expect(page.get_by_text("pages 2 and 2A", exact=True)).to_be_visible()
    shuts_nobody_out(page)
    page.get_by_label("Changed pages only").check()
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Download the revised pages").click()
    assert page_labels(Path(waiting.value.path()).read_bytes()) == ["2", "2A"]
