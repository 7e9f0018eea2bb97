"""A world paper in a browser: its paragraphs stay together whatever is said on them, each has a quiet door, and in
print it stands by itself; what is typed for it is kept."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

from django.urls import reverse
from playwright.sync_api import expect

from review.papers.acts import PaperAsked, put_up_paper, put_up_version
from review.papers.note_acts import leave_paper_note
from review.papers.note_models import PaperNote
from tests.browser.script_steps import keeps_nothing

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import BrowserContext, Page

    from review.people.models import Member


def test_tall_notes_part_no_paragraphs_a_door_leads_to_the_form_and_neither_is_printed(
    visit: Callable[..., Page], writer: Member, crew: Member
) -> None:
    song = "Ring once.\n\nAnd wait.\n\nNobody rings twice."
    paper = put_up_paper(writer, PaperAsked("The ferry song", for_everyone=True), song, uuid.uuid4())
    version = paper.versions.get()
    for paragraph in (1, 2):
        said = "Whose bell?\n\n" * 12
        leave_paper_note(crew, version, paragraph, "idea", said, "everyone", uuid.uuid4())
    page = visit(crew, reverse("paper", args=[crew.production.public_id, paper.public_id]))
    rows, notes = page.locator(".paper-row"), page.locator(".paper-note")
    expect(notes).to_have_count(2)
    expect(rows.nth(1).locator(".paper-beside")).not_to_have_css("margin-top", "0px")
    first, last = rows.nth(0).bounding_box(), rows.nth(2).bounding_box()
    tall, behind = notes.nth(0).bounding_box(), notes.nth(1).bounding_box()
    assert first
    assert last
    assert tall
    assert behind
    assert last["y"] - first["y"] < tall["height"]
    assert tall["y"] + tall["height"] < behind["y"]
    door = rows.nth(2).locator("button[data-say]")
    expect(door).to_have_css("opacity", "0")
    rows.nth(2).hover()
    expect(door).to_have_css("opacity", "1")
    door.click()
    expect(page.locator("#say textarea")).to_be_focused()
    page.keyboard.type("Not even Abel?")
    page.locator("#say").get_by_role("button", name="Leave the note").click()
    expect(page.locator("#p3 .paper-note")).to_contain_text("Not even Abel?")
    assert PaperNote.objects.latest("pk").paragraph == 3
    page.emulate_media(media="print")
    expect(page.locator("#p3 .paper-paragraph")).to_be_visible()
    for each in (notes.first, page.locator("#say"), page.get_by_role("link", name="Leave a note")):
        expect(each).to_be_hidden()


def test_what_is_typed_outlives_a_sign_in_and_is_kept_no_longer_once_it_is_up(
    visit: Callable[..., Page], sign_in: Callable[[BrowserContext, Member], None], writer: Member
) -> None:
    paper = put_up_paper(writer, PaperAsked("The ferry song", for_everyone=True), "Ring once.", uuid.uuid4())
    address = reverse("paper-write", args=[writer.production.public_id, paper.public_id])
    page = visit(writer, address)
    page.context.clear_cookies(name="sessionid")
    page.get_by_label("Text").fill("Ring twice.")
    page.get_by_label("Everyone on the production").uncheck()
    page.get_by_text("Departments").click()
    page.get_by_label("Costume").check()
    page.get_by_role("button", name="Put it up").click()
    expect(page.get_by_text("Not sent: you are signed out.")).to_be_visible()
    sign_in(page.context, writer)
    page.goto(address)
    expect(page.get_by_text("Your words from before are back.")).to_be_visible()
    expect(page.get_by_label("Text")).to_have_value("Ring twice.")
    expect(page.get_by_label("Everyone on the production")).not_to_be_checked()
    expect(page.get_by_label("Costume")).to_be_checked()
    page.get_by_role("button", name="Put it up").click()
    expect(page.locator("#p1 .paper-paragraph")).to_have_text("Ring twice.")
    assert paper.versions.count() == 2
    assert [reader.department for reader in paper.readers.all()] == ["costume"]
    keeps_nothing(page)


def test_half_a_note_comes_back_on_its_paragraph_only_while_the_paper_is_the_same(
    visit: Callable[..., Page], writer: Member, crew: Member
) -> None:
    asked = PaperAsked("The ferry song", for_everyone=True)
    paper = put_up_paper(writer, asked, "Ring once.\n\nAnd wait.", uuid.uuid4())
    page = visit(crew, reverse("paper", args=[crew.production.public_id, paper.public_id]))
    page.locator("#p2").hover()
    page.locator("#p2 button[data-say]").click()
    page.keyboard.type("How long?")
    paragraph, back = page.locator("#say select[name=paragraph]"), page.locator("#say [data-kept-words]")
    page.reload()
    expect(back).to_have_text("Your words from before are back. Discard them")
    expect(paragraph).to_have_value("2")
    put_up_version(writer, paper, asked, "Wake Abel.\n\nRing once.\n\nAnd wait.", 1, asked.seen)
    page.reload()
    expect(back).to_contain_text("What they were on has changed since: choose it again.")
    expect(page.locator("#say textarea")).to_have_value("How long?")
    expect(paragraph).to_have_value("1")


def test_declining_without_a_reason_says_so_where_the_keyboard_goes_on(
    visit: Callable[..., Page], writer: Member, crew: Member
) -> None:
    paper = put_up_paper(writer, PaperAsked("The ferry song", for_everyone=True), "Ring once.", uuid.uuid4())
    leave_paper_note(crew, paper.versions.get(), 1, "idea", "Ring twice.", "everyone", uuid.uuid4())
    page = visit(writer, reverse("paper", args=[writer.production.public_id, paper.public_id]))
    page.get_by_text("Decide", exact=True).click()
    page.get_by_role("button", name="Decline").click()
    expect(page.locator(".paper-note .field-errors")).to_be_focused()
