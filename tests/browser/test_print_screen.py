"""Printing a draft in a real browser: the page that asks how, and the file that comes."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse
from playwright.sync_api import expect

from tests.browser.conftest import DESK, PHONE
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


@pytest.mark.parametrize("size", [DESK, PHONE], ids=["desk", "phone"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.usefixtures("draft")
def test_the_page_that_asks_how_is_accessible_and_fits(
    crew: Member, visit: Visit, size: dict[str, int], scheme: str
) -> None:
    address = reverse("draft-print", args=[crew.production.public_id, 1])
    page = visit(crew, address, viewport=size, color_scheme=scheme)
    expect(page.get_by_role("button", name="Download the PDF")).to_be_visible()
    check(page, size)


@pytest.mark.parametrize("size", [DESK, PHONE], ids=["desk", "phone"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.usefixtures("draft")
def test_a_writer_s_copies_are_accessible_and_fit_and_so_is_the_html_itself(
    writer: Member, visit: Visit, tmp_path: Path, size: dict[str, int], scheme: str
) -> None:
    address = reverse("draft-print", args=[writer.production.public_id, 1])
    page = visit(writer, address, viewport=size, color_scheme=scheme)
    check(page, size)
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Download the HTML").click()
    taken = tmp_path / waiting.value.suggested_filename
    waiting.value.save_as(taken)
    page.goto(taken.as_uri())
    expect(page.get_by_role("heading", name="INT. BOATHOUSE - NIGHT")).to_be_visible()
    check(page, size)


def check(page: Page, size: dict[str, int]) -> None:
    assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]
    options = {"preload": False, "runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}
    assert Axe().run(page, options=options).response["violations"] == []
