"""The notes screen in a real browser: deciding by keyboard, narrowing, setting a place; and without JavaScript."""

from __future__ import annotations

import re
import uuid
from typing import TYPE_CHECKING

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from review.access import Role
from review.decisions.acts import decide
from review.notes.carrying import carry_notes
from review.notes_screen.looks import choose_look
from review.notes_screen.models import Look
from review.people.models import Department
from tests.browser.conftest import PHONE
from tests.browser.reach import DESK_BY_NIGHT_PHONE_BY_DAY, LOOKED_AT, shuts_nobody_out
from tests.factories import SCRIPT, make_draft, make_member, make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import ConsoleMessage, Page

    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member

    Visit = Callable[..., Page]


@pytest.fixture
def notes(crew: Member, draft: Draft) -> list[Note]:
    return [make_note(crew, draft, line, kind="problem") for line in (6, 9, 17)]


def notes_address(member: Member, query: str = "") -> str:
    return reverse("notes", args=[member.production.public_id]) + query


def test_a_writer_decides_by_keyboard(visit: Visit, writer: Member, notes: list[Note]) -> None:
    page = visit(writer, notes_address(writer))
    page.keyboard.press("j")
    page.keyboard.press("j")
    page.keyboard.press("d")
    page.keyboard.type("Just as it is.")
    page.keyboard.press("Control+Enter")
    card = page.locator(f"#note-{notes[1].public_id}")
    expect(card.locator(".decision-line")).to_contain_text("Declined by Ada Wren")
    expect(card).to_contain_text("Just as it is.")
    expect(page.locator(".state-undecided")).to_contain_text("2")
    expect(page.locator(".state-declined")).to_contain_text("1")
    expect(page.locator(f"#note-{notes[2].public_id}")).to_be_focused()
    page.keyboard.press("j")
    expect(page.locator(f"#note-{notes[2].public_id}")).to_be_focused()
    page.keyboard.press("j")
    expect(page.locator(f"#note-{notes[0].public_id}")).to_be_focused()  # round to the first that is left
    page.keyboard.press("j")
    page.keyboard.press("j")
    page.keyboard.press("k")
    expect(card).to_be_focused()
    page.goto(reverse("note", args=[writer.production.public_id, notes[0].public_id]))
    page.get_by_text("Park", exact=False).first.click()
    page.keyboard.press("Tab")
    page.locator(f"#decide-{notes[0].public_id}-reason").fill("Later.")
    page.keyboard.press("Control+Enter")
    expect(page.locator(".decision-line")).to_contain_text("Parked by Ada Wren")


def test_in_the_list_a_key_decides_and_the_last_decision_is_taken_back(
    visit: Visit, writer: Member, crew: Member, draft: Draft, notes: list[Note]
) -> None:
    choose_look(writer, Look.COMPACT)
    question = make_note(crew, draft, 20, kind="question")
    page = visit(writer, notes_address(writer))
    first, second = (page.locator(f"#note-{note.public_id}") for note in notes[:2])
    page.keyboard.press("j")
    page.keyboard.press("a")
    expect(second).to_be_focused()
    expect(first.locator(".row-state")).to_contain_text("Accepted")
    expect(page.get_by_role("status").filter(has_text="left to decide")).to_contain_text("3 left to decide")
    page.keyboard.press("p")
    expect(page.locator("#notes-said")).to_contain_text("Parked. 2 left to decide")
    expect(page.locator("#notes-in-words")).to_contain_text("2 undecided notes")
    page.keyboard.press("j")
    expect(page.locator(f"#note-{notes[2].public_id}")).to_be_focused()  # led there already: none is skipped
    page.keyboard.press("j")
    expect(page.locator("#notes-keys-accept")).to_have_text("answer")
    page.keyboard.press("a")
    page.keyboard.type("He went alone.")
    page.keyboard.press("Control+Enter")
    expect(page.locator(f"#note-{question.public_id} .row-state")).to_contain_text("Answered")
    expect(page.locator("#notes-said")).to_contain_text("1 left to decide")
    page.keyboard.press("u")
    expect(page.locator(f"#note-{question.public_id}")).to_be_focused()
    expect(page.locator("#notes-keys")).to_be_visible()  # the page is a new one, whose keys are not heard at once
    expect(page.locator("#notes-said")).to_contain_text("2 left to decide")
    page.keyboard.press("r")
    page.keyboard.type("I asked it too.")
    page.keyboard.press("Control+Enter")
    expect(page.locator(f"#note-{question.public_id}.row .reply")).to_contain_text("I asked it too.")


def test_five_notes_at_least_are_in_view_in_the_list(visit: Visit, writer: Member, crew: Member, draft: Draft) -> None:
    """However much each of them says, and with the head of the page above them."""
    for line in range(6, 18):
        make_note(crew, draft, 6 if line % 2 else 9, kind="problem", body="Who holds the lamp, and from where? " * 9)
    choose_look(writer, Look.COMPACT)
    page = visit(writer, notes_address(writer), viewport={"width": 1440, "height": 900})
    whole = "(cards) => cards.filter((card) => card.getBoundingClientRect().bottom <= innerHeight).length"
    assert page.get_by_role("article").evaluate_all(whole) >= 5


def test_a_wording_that_is_taken_asks_for_no_card_that_is_filtered_away(
    visit: Visit, writer: Member, crew: Member, draft: Draft
) -> None:
    cast = make_member(writer.production, Role.CAST, Department.CAST, "Di Plover")
    taken, overtaken = (
        make_note(by, draft, 6, wording=f"NELL mends {what}.") for by, what in ((crew, "it"), (cast, "a sail"))
    )
    page = visit(writer, notes_address(writer, f"?author={crew.public_id}&state=all"))
    told: list[str] = []

    def tell(said: ConsoleMessage) -> None:
        told.append(said.text)

    page.on("console", tell)
    card = page.locator(f"#note-{taken.public_id}")
    card.get_by_text("Accept", exact=True).click()
    card.get_by_role("button", name="Decide").click()
    expect(card.get_by_text("Accepted", exact=True)).to_be_visible()
    expect(page.locator(f"#note-{overtaken.public_id}")).to_have_count(0)
    page.remove_listener("console", tell)
    assert [each for each in told if "oobErrorNoTarget" in each] == []


def test_what_a_key_opens_stands_whole_above_the_bar(visit: Visit, writer: Member, notes: list[Note]) -> None:
    choose_look(writer, Look.COMPACT)
    page = visit(writer, notes_address(writer), viewport={"width": 1440, "height": 650})
    page.keyboard.press("j")
    page.keyboard.press("d")
    expect(page.locator(f"#note-{notes[0].public_id} textarea[name=reason]")).to_be_focused()
    send, bar = (page.locator(each).bounding_box() for each in ("form:has(textarea:focus) .send", ".notes-bar"))
    assert send
    assert bar
    assert send["y"] + send["height"] <= bar["y"]


def test_the_keys_rest_while_somebody_types(visit: Visit, writer: Member, notes: list[Note]) -> None:
    page = visit(writer, notes_address(writer))
    card = page.locator(f"#note-{notes[0].public_id}")
    card.get_by_text("Accept", exact=True).click()
    reason = card.get_by_label("Reason")
    reason.press_sequentially("jadp kpd")
    expect(reason).to_have_value("jadp kpd")
    expect(card.get_by_role("radio", name="Accept")).to_be_checked()
    reason.press("Escape")
    expect(card).to_be_focused()


def test_the_keys_can_be_put_off_and_stay_off(visit: Visit, writer: Member, notes: list[Note]) -> None:
    page = visit(writer, notes_address(writer))
    page.get_by_label("Use these keys").uncheck()
    page.reload()
    expect(page.get_by_label("Use these keys")).not_to_be_checked()
    page.keyboard.press("j")
    expect(page.locator(f"#note-{notes[0].public_id}")).not_to_be_focused()


def test_no_keys_are_told_to_whoever_has_a_touch_screen_alone(visit: Visit, writer: Member, notes: list[Note]) -> None:
    page = visit(writer, notes_address(writer), viewport=PHONE, has_touch=True, is_mobile=True)
    expect(page.locator("#notes-keys")).to_be_attached()
    assert page.locator("#notes-keys").get_attribute("hidden") is None  # the script did its part
    expect(page.locator("#notes-keys")).to_be_hidden()


def test_the_second_of_two_deciders_sees_both_decisions_and_loses_no_word(
    visit: Visit, writer: Member, notes: list[Note]
) -> None:
    other = make_member(writer.production, Role.WRITER, Department.DIRECTION, "Edda Holm")
    page = visit(writer, notes_address(writer))
    card = page.locator(f"#note-{notes[0].public_id}")
    card.get_by_text("Decline", exact=True).click()
    card.get_by_label("Reason").fill("Not this film.")
    decide(other, notes[0], "accepted", "It is true.", 0, uuid.uuid4())
    card.get_by_role("button", name="Decide").click()
    expect(card.get_by_role("alert").filter(has_text="Edda Holm decided this")).to_be_focused()
    expect(card).to_contain_text("It is true.")
    expect(card.get_by_label("Reason")).to_have_value("Not this film.")
    card.get_by_role("button", name="Decide anyway").click()
    expect(card.locator(".decision-line").first).to_contain_text("Declined by Ada Wren")
    expect(card.get_by_text("1 earlier decision")).to_be_visible()


def test_leaving_it_as_the_other_decided_brings_back_the_card(visit: Visit, writer: Member, notes: list[Note]) -> None:
    page = visit(writer, notes_address(writer))
    card = page.locator(f"#note-{notes[0].public_id}")
    card.get_by_text("Park", exact=False).first.click()
    decide(writer, notes[0], "accepted", "", 0, uuid.uuid4())
    card.get_by_role("button", name="Decide").click()
    card.get_by_role("link", name="Leave it as it stands").click()
    expect(card.get_by_text("Decide again").first).to_be_visible()
    expect(card.get_by_role("alert").filter(has_text="meanwhile")).to_have_count(0)
    assert notes[0].decisions.count() == 1


def test_a_half_written_reason_survives_a_reload(visit: Visit, writer: Member, notes: list[Note]) -> None:
    page = visit(writer, notes_address(writer))
    card = page.locator(f"#note-{notes[0].public_id}")
    card.get_by_text("Decline", exact=True).click()
    card.get_by_label("Reason").press_sequentially("Because of the tide")
    page.reload()
    expect(card.get_by_label("Reason")).to_have_value("Because of the tide")
    expect(card.get_by_role("radio", name="Decline")).to_be_checked()


def test_narrowing_keeps_the_keyboard_where_it_is_and_can_be_sent_to_others(
    visit: Visit, writer: Member, crew: Member, draft: Draft, notes: list[Note]
) -> None:
    praise = make_note(crew, draft, 9, kind="praise")
    page = visit(writer, notes_address(writer))
    page.get_by_text("Narrow down").click()
    page.get_by_label("Kind").focus()
    page.get_by_label("Kind").select_option("praise")
    expect(page.locator(".note")).to_have_count(1)
    expect(page.locator(f"#note-{praise.public_id}")).to_be_visible()
    expect(page.get_by_label("Kind")).to_be_focused()
    expect(page).to_have_url(re.compile("kind=praise"))
    page.reload()
    expect(page.locator(".note")).to_have_count(1)


def test_a_writer_points_at_the_lines_of_a_note(visit: Visit, writer: Member, draft: Draft, notes: list[Note]) -> None:
    second = make_draft(writer, SCRIPT.replace("Mist. The skiff is gone.", "Rain."), number=2)
    carry_notes(second)
    page = visit(writer, reverse("place", args=[writer.production.public_id, notes[2].public_id]))
    page.locator("[data-line='9']").click()
    expect(page.get_by_label("First line")).to_have_value("9")
    page.locator("[data-line='13']").click()
    expect(page.get_by_label("Last line")).to_have_value("13")
    expect(page.locator("#place-choice .place-page")).to_contain_text("Then we go at three.")
    page.get_by_role("button", name="Set its place").click()
    expect(page.get_by_text("stands on page 1")).to_be_visible()
    placement = notes[2].placements.get(draft=second)
    assert (placement.first_line, placement.last_line, placement.placed_by) == (9, 13, writer)


def test_everything_works_without_javascript(visit: Visit, writer: Member, draft: Draft, notes: list[Note]) -> None:
    carry_notes(make_draft(writer, SCRIPT.replace("Mist. The skiff is gone.", "Rain."), number=2))
    page = visit(writer, notes_address(writer), java_script_enabled=False)
    card = page.locator(f"#note-{notes[0].public_id}")
    card.get_by_text("Accept", exact=True).click()
    card.get_by_role("button", name="Decide").click()
    expect(page.get_by_text("Accepted. The decision now stands at the note.")).to_be_visible()
    page.goto(reverse("place", args=[writer.production.public_id, notes[2].public_id]))
    page.locator("[data-line='9'] a").click()
    page.get_by_role("button", name="Set its place").click()
    expect(page.get_by_text("stands on page 1")).to_be_visible()
    placement = notes[2].placements.get(draft__number=2)
    assert (placement.first_line, placement.last_line, placement.placed_by) == (9, 9, writer)
    assert notes[0].decisions.get().outcome == "accepted"


def test_the_screens_fit_and_can_be_used_by_everyone(
    visit: Visit, writer: Member, crew: Member, draft: Draft, notes: list[Note]
) -> None:
    decide(writer, notes[0], "declined", "Not *this* film.", 0, uuid.uuid4())
    make_note(crew, draft, 9, 13, kind="safety", wording="NELL\nThe tide turns at four.")
    carry_notes(make_draft(writer, SCRIPT.replace("Mist. The skiff is gone.", "Rain."), number=2))
    place = reverse("place", args=[writer.production.public_id, notes[2].public_id])
    page = visit(writer, notes_address(writer), **LOOKED_AT)
    for address in (
        notes_address(writer, "?state=all&meet=yes"),
        notes_address(writer, "?state=all"),
        notes_address(writer, "?kind=praise"),
        place + "?first_line=9&last_line=13",
    ):
        page.goto(address)
        choices = page.get_by_text("Accept", exact=True).locator("visible=true")
        if choices.count():
            choices.first.click()
        shuts_nobody_out(page, DESK_BY_NIGHT_PHONE_BY_DAY)
    choose_look(writer, Look.COMPACT)
    page.goto(notes_address(writer, "?state=all&group=kind"))
    page.locator(".row-head").first.click()
    shuts_nobody_out(page, DESK_BY_NIGHT_PHONE_BY_DAY)
    shuts_nobody_out(visit(crew, notes_address(crew), **LOOKED_AT), DESK_BY_NIGHT_PHONE_BY_DAY)
