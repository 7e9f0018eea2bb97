"""Putting up a script from a PDF in a real browser: what was read is shown, corrected, looked at again and put up."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from review.drafts.models import Draft
from screenplay import lay_out, parse
from screenplay.printing import typeset
from tests.browser.conftest import PHONE
from tests.browser.reach import DESK_BY_NIGHT_PHONE_BY_DAY, LOOKED_AT, shuts_nobody_out
from tests.factories import SCRIPT

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from playwright.sync_api import Page

    from review.people.models import Member

    Visit = Callable[..., Page]


@pytest.fixture
def pdf(tmp_path: Path) -> Path:
    file = tmp_path / "slack.pdf"
    file.write_bytes(typeset(lay_out(parse(SCRIPT))))
    return file


def choose(page: Page, pdf: Path) -> None:
    page.get_by_label("Choose a file").set_input_files(pdf)
    page.get_by_role("button", name="See it as it will be").click()
    expect(page.get_by_role("alert")).to_contain_text("Nothing is up yet.")


def test_a_pdf_is_shown_corrected_looked_at_again_and_put_up(writer: Member, visit: Visit, pdf: Path) -> None:
    page = visit(writer, reverse("draft-upload", args=[writer.production.public_id]))
    choose(page, pdf)
    text = page.get_by_label("The script, as Fountain")
    read = text.input_value()
    assert "INT. BOATHOUSE - NIGHT" in read

    text.fill(read + "\nMARA\nOne more line.\n\nEXT. QUAY\n\nGulls.\n")
    page.get_by_role("button", name="See it as it will be").click()
    expect(page.get_by_role("heading", name="The first draft, before it goes up")).to_be_visible()
    assert not Draft.objects.exists()
    page.get_by_role("link", name="Correct the text").click()
    expect(text).to_have_value(re.compile("One more line"))
    page.get_by_role("button", name="See it as it will be").click()

    page.get_by_role("button", name="Put it up").click()
    expect(page.get_by_role("heading", name="Draft 1")).to_be_visible()
    draft = Draft.objects.get()
    assert "One more line." in draft.text
    assert draft.filename == "slack.pdf"


def test_another_file_chosen_wins_over_the_text_that_was_read_in_the_first(
    writer: Member, visit: Visit, pdf: Path, tmp_path: Path
) -> None:
    page = visit(writer, reverse("draft-upload", args=[writer.production.public_id]))
    choose(page, pdf)
    page.get_by_role("link", name="Choose another file").click()
    text, words = page.get_by_label("Or pasted text"), page.locator("[data-kept-words]")
    expect(text).to_have_value(re.compile("INT. BOATHOUSE - NIGHT"))
    other = tmp_path / "other.fountain"
    other.write_text("INT. MILL - DAY\n\nFlour falls.\n")
    page.get_by_label("Choose a file").set_input_files(other)
    expect(text).to_have_value("")
    words.get_by_role("button", name="Take them instead").click()
    expect(text).to_have_value(re.compile("INT. BOATHOUSE - NIGHT"))
    expect(page.get_by_label("Choose a file")).to_have_value("")
    page.get_by_label("Choose a file").set_input_files(other)
    page.get_by_role("button", name="See it as it will be").click()
    expect(page.get_by_role("heading", name="The first draft, before it goes up")).to_be_visible()
    page.goto(page.url.partition("/drafts/")[0] + "/drafts/new/")
    expect(text).to_have_value("")


def test_what_was_read_is_legible_and_fits(writer: Member, visit: Visit, pdf: Path) -> None:
    page = visit(writer, reverse("draft-upload", args=[writer.production.public_id]), **LOOKED_AT)
    choose(page, pdf)
    shuts_nobody_out(page, DESK_BY_NIGHT_PHONE_BY_DAY)


def test_a_long_list_of_warnings_says_how_many_there_are_and_opens(writer: Member, visit: Visit, pdf: Path) -> None:
    page = visit(writer, reverse("draft-upload", args=[writer.production.public_id]), viewport=PHONE)
    choose(page, pdf)
    text = page.get_by_label("The script, as Fountain")
    text.fill(text.input_value() + "\nINT. HALL - DAY\nShe waits.\n" * 30)
    page.get_by_role("button", name="See it as it will be").click()
    summary = page.get_by_text("30 lines to look at")
    expect(summary).to_be_visible()
    expect(page.locator(".remark").first).to_be_hidden()
    summary.click()
    expect(page.locator(".remark")).to_have_count(30)
