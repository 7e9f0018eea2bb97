"""From the demo's notes to its third draft without leaving the browser, and what each reader then finds."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from review.decisions.in_force import undecided
from review.demo.load import load_demo
from review.notes.models import Note, NoteKind, Subject
from tests.browser.conftest import PHONE
from tests.browser.pages import leave

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import BrowserContext, Page

    from review.demo.load import DemoPeople
    from review.people.models import Member

    Visit = Callable[..., Page]

FEWEST_NOTES = 40
# What is waited for forty times is looked for in each frame: `expect` would look ever more seldom.
ARE_LEFT = "(left) => Number(document.querySelector('.state-undecided .notes-count').textContent) === left"


@pytest.fixture
def demo(transactional_db: None) -> DemoPeople:
    return load_demo()


def in_nav(page: Page, name: str) -> None:
    page.get_by_role("navigation", name="Production").get_by_role("link", name=name, exact=True).click()


def decide_by_keyboard(page: Page) -> int:
    """Decide the note that has the focus: praise is thanked for, a question answered, what offers a wording or is about
    a character accepted, one other in four declined with a reason. Gives how many are left; the next has the focus."""
    card = page.locator(f"#{page.locator('#notes-screen .note:focus').get_attribute('id')}")
    left = int(page.locator(".state-undecided .notes-count").inner_text())
    if left % 4 == 0 and card.locator("[name=put_in], .row-about").count() == 0:
        page.keyboard.press("d")
        page.keyboard.type("Not in this film.")
    else:
        page.keyboard.press("a")
        if card.get_by_role("radio", name="Answer").count():
            page.keyboard.type("The next draft says it.")
    page.keyboard.press("Control+Enter")
    page.wait_for_function(ARE_LEFT, arg=left - 1)
    if left > 1:
        expect(page.locator("#notes-screen .note:focus")).to_have_count(1)
        expect(card).not_to_be_focused()
    return left - 1


def test_the_demo_is_taken_to_a_third_draft_and_each_reader_sees_what_became_of_theirs(
    visit: Visit, sign_in: Callable[[BrowserContext, Member], None], demo: DemoPeople
) -> None:
    writer = demo.writer
    assert Note.objects.count() >= FEWEST_NOTES
    page = visit(writer, reverse("home", args=[demo.production.public_id]))
    expect(page.get_by_text("accepted notes to write in")).to_be_visible()

    # Every note that waits is decided from the keyboard; what is accepted with a wording goes into the next draft.
    page.get_by_role("link", name="Decide notes").click()
    page.wait_for_url("**/notes/**")
    page.keyboard.press("j")
    expect(page.locator("#notes-screen .note").first).to_be_focused()
    while decide_by_keyboard(page):
        pass
    page.reload()
    expect(page.get_by_role("heading", name="Every note is decided")).to_be_visible()
    assert not undecided(Note.objects.all()).exists()

    # The list of those to write in: a wording is in already; one scene is written by hand, beside its page.
    in_nav(page, "Home")
    page.get_by_role("link", name="to write in").click()
    expect(page.get_by_text("Wording is in")).to_have_count(1)
    waiting = page.locator(".to-do-item", has_text="Why is it early?")
    waiting.get_by_role("link", name="Write it in").click()
    text = page.get_by_label("The text, as Fountain")
    written = text.input_value().replace("Eleven. Why?", "Eleven. It keeps its own time. Why?")
    text.fill(written)
    expect(page.locator("[data-state]")).to_have_text(re.compile("^Saved"))

    # Putting it up asks what it answers, one key each: yes where the lines changed, no where they did not; of a note on
    # a character the writer says it: it is he who says eleven.
    page.goto(reverse("working-publish", args=[demo.production.public_id]))
    questions = page.locator("[data-question]")
    expect(questions.first).to_be_focused()
    for question in questions.all():
        is_preset = question.locator(":checked").count() == 1
        assert is_preset == (question.locator(".note-about").count() == 0)
        yes = question.locator("[value=yes]:checked").count() == 1 or (
            not is_preset and "HARGREAVE" in question.inner_text()
        )
        page.keyboard.press("y" if yes else "n")
    expect(page.get_by_role("button", name="Put up draft 3")).to_be_focused()
    page.keyboard.press("Enter")
    page.wait_for_url("**/drafts/3/report/")
    draft = demo.production.drafts.get(number=3)
    assert "Eleven. It keeps its own time. Why?" in draft.text
    assert "I don't need meeting at the gate. I can see it from here." in draft.text
    answered = list(Note.objects.filter(decisions__written_in__draft=draft).order_by("pk"))
    on_lines = [note for note in answered if note.subject == Subject.LINES]
    assert [note.kind for note in on_lines] == [NoteKind.CONFUSION, NoteKind.PROBLEM]
    assert [note.character for note in answered if note not in on_lines] == ["HARGREAVE"]

    # Whoever left those notes sees on opening the production, and at the note, that they are written in.
    phone = visit(writer, "about:blank", viewport=PHONE, has_touch=True, is_mobile=True)
    for note in on_lines:
        leave(phone)
        sign_in(phone.context, note.author)
        reader_finds_it_written_in(phone, demo.production.public_id, note)

    # Every other reader sees as much of each of theirs.
    for member in demo.members.values():
        leave(page)
        sign_in(page.context, member)
        reader_finds_what_became_of_theirs(page, demo.production.public_id, member)


def reader_finds_it_written_in(page: Page, production: str, note: Note) -> None:
    page.goto(reverse("home", args=[production]))
    expect(page.get_by_text("Written in, draft 3").first).to_be_visible()
    page.goto(reverse("notes", args=[production]) + "?author=me&state=written")
    card = page.locator(f"#note-{note.public_id}")
    expect(card.locator(".answer")).to_contain_text("Written in, draft 3")
    assert note.placements.get(draft__number=3).fate == "reworded"
    if (fold := card.locator(".row-fold > summary")).count():
        fold.click()
    card.get_by_role("link", name="See what changed").click()
    page.wait_for_url("**/changes/2/3/**")
    expect(page.locator(f"#note-{note.public_id}")).to_contain_text("your note")
    expect(page.locator(f"#note-{note.public_id}")).to_be_in_viewport()


def reader_finds_what_became_of_theirs(page: Page, production: str, member: Member) -> None:
    mine = Note.objects.filter(author=member)
    if not mine.exists():
        return
    page.goto(reverse("home", args=[production]))
    ends = page.get_by_label("What became of them")
    counts = [int(count) for count in ends.locator(".figure").all_inner_texts()]
    assert sum(counts) == mine.count()
    expect(ends.get_by_text("Undecided")).to_have_count(0)
    page.goto(reverse("notes", args=[production]) + "?author=me&state=all")
    for note in mine.exclude(kind=NoteKind.PRAISE)[:3]:
        told = page.locator(f"#note-{note.public_id} .decision-line").first
        expect(told).to_contain_text(re.compile("Accepted|Answered|Acknowledged|Declined|Parked"))
