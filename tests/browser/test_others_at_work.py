"""Two people at the same pages: what one does comes to the other, who is left where and in what they were."""

from __future__ import annotations

import re
import uuid
from typing import TYPE_CHECKING

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from review.decisions.acts import decide
from review.notes.acts import leave_note, reply, withdraw_note
from review.publishing.acts import publish_draft
from review.readings.reader_acts import finish_reading
from screenplay import Span
from screenplay.intake import Intake
from tests.browser.conftest import PHONE
from tests.browser.script_steps import form_of, open_form_on_line, script_of, write
from tests.factories import SCRIPT, make_draft, make_note, make_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page, Request

    from review.drafts.models import Draft
    from review.people.models import Member

    Visit = Callable[..., Page]

LONG = SCRIPT + "".join(f"\nINT. HOLD {number} - DAY\n\nWater drips on crate {number}.\n" for number in range(1, 60))
NOTHING_NEW = 304
TILL_ASKED_MS = 5000
TILL_TOLD_WHERE_MS = 4000
WHERE = "[scrollY, document.activeElement.id, document.getSelection().toString()]"


@pytest.fixture
def long_draft(writer: Member) -> Draft:
    return make_draft(writer, LONG)


def note_by(author: Member, draft: Draft, line: int, words: str) -> None:
    leave_note(author, draft, Span(line, 0, line, 4), "idea", words, form_id=uuid.uuid4())


def line_of(draft: Draft, words: str) -> int:
    return draft.text.splitlines().index(words) + 1


def ask_at_once(page: Page) -> None:
    """Let the page ask without waiting for the moment when it would, as it does when its connection is back."""
    page.evaluate("() => void dispatchEvent(new Event('online'))")


def begin_to_ask(page: Page) -> None:
    """Ask until the page, which by then says since when, is told of nothing new, so that what comes now is."""
    is_up_to_date = False
    while not is_up_to_date:
        with page.expect_response(lambda response: "/news/" in response.url) as told:
            ask_at_once(page)
        is_up_to_date = told.value.status == NOTHING_NEW and "since=" in told.value.url


def test_what_another_does_comes_to_the_page_and_nothing_there_moves(
    visit: Visit, writer: Member, crew: Member, long_draft: Draft
) -> None:
    old = make_note(crew, long_draft, 9)
    theirs, mine = visit(crew, script_of(long_draft)), visit(writer, script_of(long_draft), own_clock=True)
    expect(mine.get_by_role("article")).to_have_count(1)
    begin_to_ask(mine)
    heading, words = (line_of(long_draft, line) for line in ("INT. HOLD 40 - DAY", "Water drips on crate 40."))
    mine.locator(f"#L{heading}").evaluate("(line) => line.scrollIntoView({ block: 'start' })")
    mine.locator(f"#L{heading}").evaluate("(line) => line.focus({ preventScroll: true })")
    mine.locator(f"#L{words}").evaluate(
        "({ firstChild: words }) => document.getSelection().setBaseAndExtent(words, 0, words, 5)"
    )
    before = mine.evaluate(WHERE)
    open_form_on_line(theirs, 6)
    write(form_of(theirs), "Whose net?")
    form_of(theirs).get_by_role("button", name="Leave the note").click()
    expect(theirs.get_by_role("article")).to_have_count(2)
    note_by(crew, long_draft, words, "How cold is it?")
    reply(crew, old, "I mean the *tide*.", uuid.uuid4())
    mine.clock.fast_forward(TILL_ASKED_MS)
    line = mine.get_by_role("status").filter(has_text="Two new notes and one new reply")
    expect(line).to_be_visible()
    expect(mine.get_by_role("article")).to_have_count(3)
    expect(mine.get_by_text("I mean the tide.")).to_have_count(1)
    expect(mine.get_by_role("link", name="1 note, open").last).to_be_visible()
    expect(mine.get_by_text("3 notes, 3 open")).to_have_count(1)
    assert mine.evaluate(WHERE) == before
    mine.get_by_role("button", name="Show", exact=True).click()
    expect(mine.get_by_role("article").filter(has_text="Whose net?")).to_be_focused()


def test_a_card_that_somebody_is_at_waits_until_they_have_left_it(
    visit: Visit, writer: Member, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 6)
    page = visit(crew, script_of(draft))
    card = page.get_by_role("article")
    begin_to_ask(page)
    card.focus()
    decide(writer, note, "declined", "The lamp stays.", 0, uuid.uuid4())
    ask_at_once(page)
    expect(page.get_by_role("status").filter(has_text="One new decision")).to_be_visible()
    expect(card).to_be_focused()
    expect(page.get_by_text("The lamp stays.")).to_have_count(0)
    page.locator("#L9").focus()
    expect(page.get_by_text("The lamp stays.")).to_have_count(1)


def test_a_note_that_another_takes_back_goes_from_the_page(
    visit: Visit, writer: Member, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 6)
    page = visit(writer, script_of(draft))
    expect(page.get_by_role("article")).to_have_count(1)
    begin_to_ask(page)
    withdraw_note(crew, note)
    ask_at_once(page)
    expect(page.get_by_role("article")).to_have_count(0)
    expect(page.get_by_text("no notes yet")).to_be_visible()


def test_what_was_kept_from_a_reader_comes_though_it_is_older_than_what_they_know(
    visit: Visit, writer: Member, crew: Member, draft: Draft
) -> None:
    reading = make_reading(writer, draft, crew)
    page = visit(crew, script_of(draft))
    begin_to_ask(page)
    note_by(writer, draft, 6, "Which net?")
    note_by(crew, draft, 9, "Which tide?")
    begin_to_ask(page)
    finish_reading(crew, reading)
    ask_at_once(page)
    expect(page.get_by_text("Which net?")).to_have_count(1)


def test_who_else_is_at_the_page_is_named_at_its_top(visit: Visit, writer: Member, crew: Member, draft: Draft) -> None:
    mine = visit(writer, script_of(draft))
    begin_to_ask(mine)
    theirs = visit(crew, script_of(draft), own_clock=True)
    with theirs.expect_response(lambda response: "/place/" in response.url):
        theirs.clock.fast_forward(TILL_TOLD_WHERE_MS)
    ask_at_once(mine)
    expect(mine.get_by_role("group", name="In the script").get_by_text("With Bo Finch")).to_be_visible()


def test_one_who_reads_on_says_so_now_and_then_however_often_they_scroll(
    visit: Visit, crew: Member, long_draft: Draft
) -> None:
    page = visit(crew, "about:blank", own_clock=True)
    told: list[str] = []

    def tell(request: Request) -> None:
        if request.url.endswith("/place/"):
            told.append(request.url)

    page.on("request", tell)
    page.goto(script_of(long_draft))
    for _ in range(5):
        page.mouse.wheel(0, 300)
        page.wait_for_timeout(50)
    page.clock.run_for(5000)
    before = len(told)
    page.mouse.move(200, 200)
    page.clock.run_for(120_000)
    page.remove_listener("request", tell)
    assert len(told) == before + 1


def test_a_list_one_works_in_stays_and_the_new_draft_has_a_way_to_it(
    visit: Visit, writer: Member, crew: Member, draft: Draft
) -> None:
    make_note(writer, draft, 9)
    page = visit(crew, f"{reverse('notes', args=[writer.production.public_id])}?author=all")
    begin_to_ask(page)
    note_by(writer, draft, 6, "Whose net?")
    publish_draft(writer, Intake(text=SCRIPT.replace("Mist.", "Fog."), encoding="utf-8", bom=b""))
    note_by(writer, draft, 8, "Who is Nell?")
    ask_at_once(page)
    expect(page.get_by_role("status").filter(has_text="Draft 2 is up. Two new notes")).to_be_visible()
    expect(page.get_by_role("link", name="Read it")).to_have_attribute("href", re.compile("/drafts/2/script/$"))
    expect(page.get_by_role("article")).to_have_count(1)
    page.get_by_role("button", name="Show what is new").click()
    expect(page.get_by_role("article")).to_have_count(3)


def test_home_and_a_reading_s_progress_are_brought_up_to_date(
    visit: Visit, writer: Member, crew: Member, draft: Draft
) -> None:
    reading = make_reading(writer, draft, crew)
    home = visit(writer, reverse("home", args=[writer.production.public_id]))
    progress = visit(writer, reverse("reading-readers", args=[writer.production.public_id, reading.public_id]))
    begin_to_ask(home)
    begin_to_ask(progress)
    finish_reading(crew, reading)
    ask_at_once(home)
    ask_at_once(progress)
    expect(home.get_by_text("1 of 1 has finished")).to_be_visible()
    expect(progress.get_by_text("Finished", exact=True)).to_be_visible()


def test_the_line_stands_below_the_bar_of_the_notes_and_over_no_field_that_is_typed_in(
    visit: Visit, writer: Member, crew: Member, draft: Draft
) -> None:
    notes = [make_note(crew, draft, line) for line in (6, 9, 17)]
    address = reverse("notes", args=[writer.production.public_id])
    page = visit(writer, f"{address}?state=undecided", viewport=PHONE)
    begin_to_ask(page)
    card = page.locator(f"#note-{notes[1].public_id}")
    card.get_by_text("Accept", exact=True).click()
    card.get_by_label("Reason").click()
    reply(crew, notes[0], "The lamp is *ours*.", uuid.uuid4())
    ask_at_once(page)
    expect(page.get_by_role("status").filter(has_text="One new reply")).to_be_visible()
    places = (".notes-bar", ".news", "textarea:focus")
    bar, line, field = (page.locator(each).bounding_box() for each in places)
    assert bar
    assert line
    assert field
    assert field["y"] + field["height"] <= bar["y"]
    assert bar["y"] + bar["height"] <= line["y"] + 1
    assert line["y"] + line["height"] <= PHONE["height"]
