"""The script screen in a real browser: notes beside their lines, stepping from one to the next, and how it looks."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING, Any
from uuid import uuid4

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from review.decisions.acts import decide
from review.drafts.visits import be_at
from review.notes.carrying import carry_notes
from review.notes.models import Audience, Note
from review.scenes.acts import set_story_days
from tests.browser.reach import DESK_BY_NIGHT_PHONE_BY_DAY, LOOKED_AT, LOOKS, in_looks, shuts_nobody_out
from tests.browser.script_steps import open_form_on_line, script_of, words_box
from tests.factories import SCRIPT, make_draft, make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

    from review.drafts.models import Draft
    from review.people.models import Member

    Visit = Callable[..., Page]

SETTLED = (
    "document.fonts.ready.then(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))))"
)


def test_the_tab_key_meets_one_line_of_the_script_and_not_every_link(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    expect(page.locator("[data-pages] .paper [tabindex='0']")).to_have_count(1)
    expect(page.locator("[data-pages] .doors a:not([tabindex='-1'])")).to_have_count(0)


def test_a_decided_note_is_folded_to_its_first_words_and_opens(
    visit: Visit, crew: Member, writer: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 6, body="Is the lamp real?")
    decide(writer, note, "accepted", "An LED one.", 0, uuid4())
    page = visit(crew, script_of(draft))
    card = page.get_by_role("article")
    expect(card.locator("summary").first).to_contain_text("Is the lamp real?")
    expect(card.get_by_text("An LED one.")).to_be_hidden()
    card.locator("summary").first.press("Enter")
    expect(card.get_by_text("An LED one.")).to_be_visible()


def test_the_marker_of_a_speech_beside_another_covers_no_words(visit: Visit, crew: Member, writer: Member) -> None:
    draft = make_draft(writer, "INT. A - DAY\n\nNELL\nIt is late now.\n\nTOBIAS ^\nIt is early now.\n")
    for line in (4, 7):
        make_note(crew, draft, line)
    page = visit(crew, script_of(draft))
    page.evaluate(SETTLED)
    words = [words_box(page, line) for line in (3, 4, 6, 7)]
    expect(page.locator(".marker")).to_have_count(2)
    markers = [box for marker in page.locator(".marker").all() if (box := marker.bounding_box())]
    for marker in markers:
        assert marker["x"] + marker["width"] <= min(box["x"] for box in words) or marker["x"] >= max(
            box["x"] + box["width"] for box in words
        )


def test_the_keyboard_skips_to_the_script_s_first_line(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    page.get_by_role("link", name="Skip to the script").press("Enter")
    expect(page.locator("[data-pages] .paper [tabindex='0']")).to_be_focused()


def test_cards_stand_level_with_their_lines_and_never_overlap(visit: Visit, crew: Member, draft: Draft) -> None:
    for line in (6, 6, 9, 17):
        make_note(crew, draft, line)
    page = visit(crew, script_of(draft))
    expect(page.get_by_role("article")).to_have_count(4)
    page.evaluate(SETTLED)
    boxes = [box for card in page.get_by_role("article").all() if (box := card.bounding_box())]
    beside = page.locator("#L6").bounding_box()
    assert beside
    assert len(boxes) == 4
    assert boxes[0]["y"] == pytest.approx(beside["y"], abs=2)
    for above, below in pairwise(boxes):
        assert above["y"] + above["height"] <= below["y"]


def test_a_card_lights_its_lines_and_a_line_its_cards(visit: Visit, crew: Member, draft: Draft) -> None:
    make_note(crew, draft, 6)
    make_note(crew, draft, 17)
    page = visit(crew, script_of(draft))
    page.get_by_role("article").first.hover()
    expect(page.locator("#L6")).to_have_class(re.compile(r"\blit\b"))
    page.locator("#L17").hover()
    expect(page.get_by_role("article").nth(1)).to_have_class(re.compile("note-lit"))
    expect(page.locator("#L6")).not_to_have_class(re.compile(r"\blit\b"))


def test_a_desk_shows_every_row_where_the_layout_put_it(visit: Visit, crew: Member, draft: Draft) -> None:
    """Dialogue begins 10 columns in, a cue 22: the trade's figures on paper, 2.5 in and 3.7 in from its left edge."""
    page = visit(crew, script_of(draft))
    page.evaluate(SETTLED)
    boxes = {line: words_box(page, line) for line in (6, 8, 9)}
    left = {line: box["x"] for line, box in boxes.items()}
    column = boxes[6]["width"] / len("NELL mends a net by one lamp.")
    assert (left[9] - left[6]) / column == pytest.approx(10, abs=0.05)
    assert (left[8] - left[6]) / column == pytest.approx(22, abs=0.05)


@in_looks(*LOOKS)
def test_nobody_is_shut_out(visit: Visit, crew: Member, writer: Member, draft: Draft, look: dict[str, Any]) -> None:
    """On the screen with notes of every fate, and with its form open."""
    make_note(crew, draft, 6, kind="safety", wording="NELL mends a sail.")
    make_note(writer, draft, 9, audience=Audience.WRITER)
    make_note(crew, draft, 17)
    second = make_draft(
        writer, SCRIPT.replace("Tide turns at four.", "Tide turns at five.").replace("He didn't wait.", ""), 2
    )
    carry_notes(second)
    page = visit(writer, script_of(second), **look)
    page.evaluate(SETTLED)
    shuts_nobody_out(page)
    open_form_on_line(page, 6)
    shuts_nobody_out(page)


def test_nobody_is_shut_out_of_the_form_s_own_page_nor_a_note_s(visit: Visit, crew: Member, draft: Draft) -> None:
    """The same on the pages that work without JavaScript."""
    note = make_note(crew, draft, 6, kind="safety", wording="NELL mends a sail.")
    key = draft.production.public_id
    page = visit(crew, reverse("note-new", args=[key, 1]) + "?from=6&to=99", **LOOKED_AT)
    shuts_nobody_out(page, DESK_BY_NIGHT_PHONE_BY_DAY)
    page.goto(reverse("note", args=[key, note.public_id]))
    shuts_nobody_out(page, DESK_BY_NIGHT_PHONE_BY_DAY)


def test_a_withdrawn_note_is_gone_at_once_and_can_be_put_back(visit: Visit, crew: Member, draft: Draft) -> None:
    make_note(crew, draft, 6, body="Hasty words")
    page = visit(crew, script_of(draft))
    card = page.get_by_role("article")
    card.get_by_text("Withdraw", exact=True).click()
    card.get_by_role("button", name="Withdraw this note").click()
    expect(page.get_by_text("Hasty words")).to_be_hidden()
    expect(page.locator(".marker")).to_have_count(0)
    expect(card.get_by_role("button", name="Put it back")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.get_by_text("Hasty words")).to_be_visible()
    expect(page.locator(".marker")).to_have_count(1)
    assert Note.objects.get().withdrawn_at is None


def test_a_reply_is_where_one_goes_on_after_sending_it(visit: Visit, crew: Member, draft: Draft) -> None:
    make_note(crew, draft, 6)
    page = visit(crew, script_of(draft))
    page.get_by_text("Reply", exact=True).first.click()
    page.get_by_label(re.compile("Your reply")).fill("It is dusk.")
    page.get_by_role("button", name="Reply", exact=True).click()
    expect(page.locator(".reply")).to_be_focused()
    expect(page.locator("[data-said]")).to_have_text("Your reply is under the note.")


def test_letters_are_as_large_as_wanted_and_one_character_s_lines_stand_forward(
    visit: Visit, crew: Member, draft: Draft
) -> None:
    page = visit(crew, script_of(draft))
    before = words_box(page, 6)["width"]
    page.get_by_role("button", name="View").click()
    page.get_by_role("radio", name="Large", exact=True).check(force=True)
    assert words_box(page, 6)["width"] > 1.05 * before
    page.get_by_label("Bring one character’s lines forward").select_option("NELL")
    expect(page.get_by_text("2 speeches of NELL.")).to_be_visible()
    assert page.locator(".theirs").evaluate_all("(lines) => lines.map((line) => line.id)") == ["L8", "L9", "L19", "L20"]
    page.reload()
    assert words_box(page, 6)["width"] > 1.05 * before


def test_each_scene_s_day_of_the_story_stands_over_its_heading_from_then_on(
    visit: Visit, crew: Member, writer: Member, draft: Draft
) -> None:
    set_story_days(writer, draft, {2: 3}, {})
    page = visit(crew, script_of(draft))
    page.get_by_role("button", name="View").click()
    page.get_by_label("Say each scene’s day of the story").check()
    for line, day in ((4, "Day 1"), (15, "Day 3")):
        expect(page.locator(f"#L{line} .story-day")).to_have_text(day)
    page.reload()
    expect(page.locator("#L15 .story-day")).to_be_visible()
    over, heading = (page.locator(f"#L15{part}").bounding_box() for part in (" .story-day", ""))
    assert over
    assert heading
    assert over["y"] + over["height"] <= heading["y"] + 1
    open_form_on_line(page, 15)
    expect(page.locator("[data-note-dialog] .quoted")).to_have_text("EXT. SLIPWAY - DAWN")


def test_the_script_opens_where_it_was_left_and_leads_to_any_page_and_note(
    visit: Visit, crew: Member, writer: Member
) -> None:
    draft = make_draft(writer, "INT. A - DAY\n\n" + "Rain on the water.\n\n" * 150)
    make_note(crew, draft, 149, body="On this line")
    make_note(crew, draft, 251, body="How deep?")
    be_at(crew, draft, 151)
    page = visit(crew, script_of(draft))
    expect(page.locator("#L151")).to_be_in_viewport()
    expect(page.locator("#L149")).to_be_in_viewport()  # above the line that one is at
    next_note = page.locator("[data-reach-notes]").get_by_role("button", name="Next note")
    next_note.dispatch_event("click")  # which a mouse that first scrolls it into view would not do
    expect(page.get_by_role("article").filter(has_text="How deep?")).to_be_focused()
    page.get_by_role("button", name="Back to where I was").click()
    page.get_by_label("Page", exact=True).fill("2")
    page.get_by_role("button", name="Go", exact=True).click()
    expect(page.locator("[data-reach-page]")).to_have_text("Page 2 of 6")
    next_note.dispatch_event("click")
    expect(page.get_by_role("article").filter(has_text="On this line")).to_be_focused()
    next_note.dispatch_event("click")
    expect(page.get_by_role("article").filter(has_text="How deep?")).to_be_focused()
    expect(page.locator("#L251")).to_be_in_viewport()
    page.get_by_label("Page", exact=True).fill("9")
    page.get_by_role("button", name="Go", exact=True).click()
    expect(page.get_by_text("There is no page 9: the last is 6.")).to_be_visible()


def test_marks_and_cards_never_move_the_page(visit: Visit, crew: Member, writer: Member) -> None:
    draft = make_draft(writer, "INT. A - DAY\n\n" + "Rain on the water.\n\n" * 150)
    for line in range(3, 300, 4):
        make_note(crew, draft, line)
    page = visit(crew, "about:blank")
    watching = page.add_init_script(
        """
        window.moved = [];
        new PerformanceObserver((list) => {
            for (const shift of list.getEntries())
                for (const { node } of shift.sources)
                    if (node?.parentElement?.closest(".leaf")) window.moved.push(`${node.textContent} ${shift.value}`);
        }).observe({ type: "layout-shift", buffered: true });
        """
    )
    with watching:
        page.goto(script_of(draft))
    for _ in range(8):
        page.mouse.wheel(0, 700)
        page.wait_for_timeout(120)
    expect(page.get_by_role("article").first).to_be_attached()
    assert page.evaluate("moved") == []
