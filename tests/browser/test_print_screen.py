"""Printing a draft in a real browser: the page that asks how, and the file that comes."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from tests.browser.reach import DESK_BY_DAY_PHONE_BY_NIGHT, DESK_BY_NIGHT_PHONE_BY_DAY, LOOKED_AT, shuts_nobody_out
from tests.pdf import sheets

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

    from review.drafts.models import Draft
    from review.people.models import Member

    Visit = Callable[..., Page]


def test_the_pdf_and_the_sides_are_downloaded_from_the_drafts_screen(draft: Draft, crew: Member, visit: Visit) -> None:
    page = visit(crew, reverse("drafts", args=[crew.production.public_id]))
    page.get_by_role("link", name="Print").click()
    script = page.locator("form", has=page.get_by_role("heading", name="The script"))
    script.get_by_label("A4").check()
    script.get_by_label("Scene numbers").check()
    with page.expect_download() as waiting:
        script.get_by_role("button", name="Download the PDF").click()
    pages = sheets(Path(waiting.value.path()).read_bytes())
    assert [sheet.slanted for sheet in pages] == ["Bo Finch"] * 2
    assert list(pages[1].left_margin.values()) == ["1", "2"]

    page.get_by_label("Character").select_option("TOBIAS")
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Download the sides").click()
    assert sheets(Path(waiting.value.path()).read_bytes())[0].head[0] == "Sides: TOBIAS"


@pytest.mark.usefixtures("draft")
def test_the_page_that_asks_how_is_accessible_and_fits(crew: Member, visit: Visit) -> None:
    page = visit(crew, reverse("draft-print", args=[crew.production.public_id, 1]), **LOOKED_AT)
    expect(page.get_by_role("button", name="Download the PDF")).to_be_visible()
    shuts_nobody_out(page, DESK_BY_NIGHT_PHONE_BY_DAY)


@pytest.mark.usefixtures("draft")
def test_a_writer_s_copies_are_accessible_and_fit_and_so_is_the_html_itself(
    writer: Member, visit: Visit, tmp_path: Path
) -> None:
    page = visit(writer, reverse("draft-print", args=[writer.production.public_id, 1]), **LOOKED_AT)
    shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Download the HTML").click()
    taken = tmp_path / waiting.value.suggested_filename
    waiting.value.save_as(taken)
    page.goto(taken.as_uri())
    expect(page.get_by_role("heading", name="INT. BOATHOUSE - NIGHT")).to_be_visible()
    shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
