"""Wordings and the working draft in a real browser: taken in, seen in the editor, taken out; what a draft answers."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from review.decisions.acts import decide
from review.rewriting.wording_models import WrittenIn
from tests.browser.reach import DESK_BY_DAY_PHONE_BY_NIGHT, LOOKED_AT, shuts_nobody_out
from tests.factories import make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member

    Visit = Callable[..., Page]


@pytest.fixture
def note(crew: Member, draft: Draft) -> Note:
    return make_note(crew, draft, 9, wording="The tide turns at four.")


def address(member: Member, name: str, query: str = "") -> str:
    return reverse(name, args=[member.production.public_id]) + query


def take(writer: Member, note: Note) -> None:
    decide(writer, note, "accepted", "", 0, uuid.uuid4(), with_wording=True)


def test_a_wording_is_accepted_by_keyboard_seen_in_its_scene_and_taken_out_in_one_step(
    visit: Visit, writer: Member, note: Note
) -> None:
    page = visit(writer, address(writer, "notes"))
    card = page.locator(f"#note-{note.public_id}")
    page.keyboard.press("j")
    page.keyboard.press("a")
    expect(card.get_by_label("Put its wording into the working draft")).to_be_checked()
    page.keyboard.press("Control+Enter")
    expect(card).to_contain_text("Its wording is in the working draft.")
    card.get_by_role("link", name="See it in its scene").click()
    text = page.get_by_label("The text, as Fountain")
    expect(text).to_have_value(
        "INT. BOATHOUSE - NIGHT\n\nNELL mends a net by one lamp.\n\nNELL\n"
        "The tide turns at four.\n\nTOBIAS (O.S.)\n(from the slip)\nThen we go at *three*.\n\n"
    )
    page.locator(f"#note-{note.public_id}").get_by_role("button", name="Take it out").click()
    expect(text).to_have_value(
        "INT. BOATHOUSE - NIGHT\n\nNELL mends a net by one lamp.\n\nNELL\n"
        "Tide turns at four.\n\nTOBIAS (O.S.)\n(from the slip)\nThen we go at *three*.\n\n"
    )
    expect(page.locator(f"#note-{note.public_id}")).to_contain_text("Opened again by Ada Wren")


def test_the_card_beside_is_told_that_its_wording_was_overtaken_and_keeps_what_is_typed_on_it(
    visit: Visit, writer: Member, crew: Member, draft: Draft, note: Note
) -> None:
    other = make_note(crew, draft, 9, wording="Our tide turns at four.")
    page = visit(writer, address(writer, "notes", "?state=all"))
    card, beside = (page.locator(f"#note-{each.public_id}") for each in (note, other))
    beside.get_by_text("Accept", exact=True).click()
    beside.get_by_label("Reason").fill("Hers, rather.")
    card.get_by_text("Accept", exact=True).click()
    card.get_by_role("button", name="Decide").click()
    expect(beside).to_contain_text("Overtaken by Bo Finch’s note")
    expect(beside.get_by_label("Put its wording into the working draft")).to_have_count(0)
    expect(beside.get_by_label("Reason")).to_have_value("Hers, rather.")
    card.get_by_role("button", name="Take it out, and open the note again").click()
    expect(beside.get_by_label("Put its wording into the working draft")).to_be_checked()
    expect(beside.get_by_text("Overtaken by")).to_have_count(0)


def test_the_wording_is_offered_only_with_the_decision_that_takes_it(visit: Visit, writer: Member, note: Note) -> None:
    card = visit(writer, address(writer, "notes")).locator(f"#note-{note.public_id}")
    box = card.get_by_label("Put its wording into the working draft")
    expect(box).to_be_hidden()
    card.get_by_text("Accept", exact=True).click()
    expect(box).to_be_visible()
    card.get_by_text("Decline", exact=True).click()
    expect(box).to_be_hidden()


def test_one_key_answers_each_note_and_goes_on_to_the_next(
    visit: Visit, writer: Member, crew: Member, draft: Draft, note: Note
) -> None:
    others = [make_note(crew, draft, line) for line in (17, 20)]
    take(writer, note)
    for other in others:
        decide(writer, other, "accepted", "", 0, uuid.uuid4())
    page = visit(writer, address(writer, "working-publish"))
    questions = page.locator("[data-question]")
    expect(questions.nth(0)).to_be_focused()
    expect(page.locator("[data-asking-count]")).to_have_text("1 of 3 answered")
    tops = page.locator(".asking-keys dt, .asking-keys dd").evaluate_all("all => all.map(each => each.offsetTop)")
    assert len(tops) == 6
    assert max(tops) - min(tops) < 12, "the keys and what they do stand in one row"
    page.keyboard.press("n")
    expect(questions.nth(1)).to_be_focused()
    page.keyboard.press("y")
    expect(questions.nth(2)).to_be_focused()
    page.keyboard.press("k")
    page.keyboard.press("k")
    expect(questions.nth(0)).to_be_focused()
    page.keyboard.press("y")
    page.keyboard.press("j")
    page.keyboard.press("n")
    expect(page.get_by_role("button", name="Put up draft 2")).to_be_focused()
    expect(page.locator("[data-asking-count]")).to_have_text("2 of 3 answered")
    page.keyboard.press("Enter")
    page.wait_for_url("**/drafts/2/report/")
    assert {each.decision.note for each in WrittenIn.objects.all()} == {note, others[0]}


def test_it_is_answered_without_javascript_too(visit: Visit, writer: Member, note: Note) -> None:
    take(writer, note)
    page = visit(writer, address(writer, "working-publish"), java_script_enabled=False)
    expect(page.get_by_role("radio", name="Yes, answered")).to_be_checked()
    page.get_by_text("Not yet").click()
    page.get_by_role("button", name="Put up draft 2").click()
    page.wait_for_url("**/drafts/2/report/")
    assert not WrittenIn.objects.exists()


def test_a_wording_is_taken_in_and_out_without_javascript(visit: Visit, writer: Member, note: Note) -> None:
    page = visit(writer, address(writer, "notes"), java_script_enabled=False)
    card = page.locator(f"#note-{note.public_id}")
    card.get_by_text("Accept", exact=True).click()
    card.get_by_role("button", name="Decide").click()
    page.goto(address(writer, "notes", "?state=all"))
    expect(card).to_contain_text("Its wording is in the working draft.")
    card.get_by_role("button", name="Take it out").click()
    page.goto(address(writer, "notes", "?state=all"))
    expect(card).to_contain_text("Opened again by Ada Wren")


def test_the_screens_fit_and_can_be_used_by_everyone(
    visit: Visit, writer: Member, crew: Member, draft: Draft, note: Note
) -> None:
    overtaken = make_note(crew, draft, 9, wording="Our tide turns at four.", kind="safety")
    scene = make_note(crew, draft, 15, 20, subject="scene")
    decide(writer, make_note(crew, draft, 9, wording="A tide turns."), "accepted", "", 0, uuid.uuid4())
    take(writer, note)
    decide(writer, scene, "accepted", "Of *course*.", 0, uuid.uuid4())
    page = visit(writer, address(writer, "notes", "?state=all"), **LOOKED_AT)
    card = page.locator(f"#note-{overtaken.public_id}")
    card.get_by_text("Accept", exact=True).click()
    expect(card.get_by_text("Overtaken by")).to_be_visible()
    shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
    for name in ("to-do", "working-publish", "home"):
        page.goto(address(writer, name))
        shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
