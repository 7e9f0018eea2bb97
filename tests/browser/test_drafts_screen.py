"""Putting up drafts and reading what changed, in a real browser, with JavaScript and without."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from django.urls import reverse
from playwright.sync_api import expect

from review.drafts.acts import withdraw_draft
from review.drafts.models import Draft
from review.publishing.acts import hold_draft, publish_draft
from screenplay.intake import read_text
from tests.browser.conftest import PHONE
from tests.browser.reach import DESK_BY_NIGHT_PHONE_BY_DAY, LOOKED_AT, shuts_nobody_out
from tests.factories import SCRIPT, make_note

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from playwright.sync_api import Page

    from review.people.models import Member

    Visit = Callable[..., Page]

NEXT = SCRIPT.replace("Tide turns at four.", "The tide turns at five.").replace("Mist. The skiff is gone.\n\n", "")


def address(member: Member, name: str, *parts: int | str) -> str:
    return reverse(name, args=[member.production.public_id, *parts])


def publish(writer: Member, *texts: str) -> list[Draft]:
    return [publish_draft(writer, read_text(text))[0] for text in texts]


def drop(page: Page, *names: str) -> None:
    """Drop files of these names on the zone, as a browser tells the page of it."""
    transfer = page.evaluate_handle(
        """([names, text]) => {
            const transfer = new DataTransfer();
            for (const name of names) transfer.items.add(new File([text], name, {type: "text/plain"}));
            return transfer;
        }""",
        [list(names), SCRIPT],
    )
    for event in ("dragover", "drop"):
        page.dispatch_event("[data-drop]", event, {"dataTransfer": transfer})


def test_a_file_by_the_picker_becomes_a_draft(writer: Member, visit: Visit, tmp_path: Path) -> None:
    script = tmp_path / "slack.fountain"
    script.write_text(SCRIPT, encoding="utf-8")
    page = visit(writer, address(writer, "draft-upload"))
    page.get_by_label("Choose a file").set_input_files(script)
    expect(page.locator("[data-drop-said]")).to_contain_text("slack.fountain")
    page.get_by_role("button", name="See it as it will be").click()
    expect(page.get_by_role("heading", name="The first draft, before it goes up")).to_be_visible()
    page.reload()
    assert not Draft.objects.exists()
    page.get_by_label("Label").fill("For the read-through")
    page.get_by_role("button", name="Put it up").click()
    expect(page.get_by_role("heading", name="Draft 1, For the read-through")).to_be_visible()
    expect(page.get_by_role("link", name="INT. BOATHOUSE - NIGHT")).to_be_visible()
    assert Draft.objects.get().text == SCRIPT


def test_a_dropped_file_becomes_a_draft(writer: Member, visit: Visit) -> None:
    page = visit(writer, address(writer, "draft-upload"))
    drop(page, "slack.fountain")
    expect(page.locator("[data-drop-said]")).to_contain_text("slack.fountain")
    page.get_by_role("button", name="See it as it will be").click()
    page.get_by_role("button", name="Put it up").click()
    expect(page.get_by_role("heading", name="Draft 1")).to_be_visible()
    assert Draft.objects.get().filename == "slack.fountain"


def test_two_dropped_files_are_one_too_many(writer: Member, visit: Visit) -> None:
    page = visit(writer, address(writer, "draft-upload"))
    drop(page, "slack.fountain", "other.fountain")
    expect(page.locator("[data-drop-said]")).to_have_text("One file at a time, please.")


def test_what_cannot_be_read_is_said_and_the_form_stays_as_it_was(writer: Member, visit: Visit) -> None:
    page = visit(writer, address(writer, "draft-upload"))
    page.get_by_label("Or pasted text").fill("<!doctype html>\n<html><body>INT. BARN - DAY</body></html>")
    page.get_by_role("button", name="See it as it will be").click()
    expect(page.get_by_role("alert")).to_contain_text("web page")
    expect(page.get_by_label("Or pasted text")).to_have_value(
        "<!doctype html>\n<html><body>INT. BARN - DAY</body></html>"
    )


def test_it_all_works_without_javascript_on_a_phone(writer: Member, visit: Visit) -> None:
    page = visit(writer, address(writer, "draft-upload"), viewport=PHONE, java_script_enabled=False)
    page.get_by_label("Or pasted text").fill(SCRIPT)
    page.get_by_role("button", name="See it as it will be").click()
    page.get_by_role("button", name="Put it up").click()
    expect(page.get_by_role("heading", name="Draft 1")).to_be_visible()
    assert Draft.objects.get().text == SCRIPT
    publish(writer, NEXT)
    page.goto(address(writer, "changes"))
    expect(page.locator(".change-reworded ins").last).to_contain_text("five")
    page.goto(address(writer, "voices-current"))
    page.get_by_role("link", name="Character").click()
    expect(page.get_by_role("columnheader", name="Character")).to_have_attribute("aria-sort", "ascending")


def test_the_link_at_a_note_leads_to_the_lines_it_stood_on(writer: Member, crew: Member, visit: Visit) -> None:
    [first] = publish(writer, SCRIPT)
    make_note(crew, first, 9, body="Which four?")
    publish(writer, NEXT)
    page = visit(crew, address(crew, "changes-between", 1, 2))
    page.get_by_role("link", name="See the lines").click()
    expect(page.locator(".change:target")).to_contain_text("four")
    expect(page.locator(".change:target")).to_be_in_viewport()


def test_the_link_to_a_line_that_is_folded_opens_the_fold(writer: Member, crew: Member, visit: Visit) -> None:
    loft = "INT. LOFT - DAY\n\nA rope lies coiled under the skylight.\n\nDust.\n\nEXT. QUAY - DAY\n\nRain.\n"
    [first] = publish(writer, SCRIPT + "\n" + loft)
    note = make_note(crew, first, 24, body="Which rope?")
    assert note.quoted.startswith("A rope")
    publish(writer, SCRIPT + "\nEXT. QUAY - DAY\n\nRain.\n")
    page = visit(crew, address(crew, "changes-between", 1, 2))
    page.get_by_role("link", name="See the lines").click()
    expect(page.get_by_text("A rope lies coiled under the skylight.")).to_be_visible()


def test_a_draft_put_up_by_mistake_is_withdrawn_and_put_up_again(writer: Member, crew: Member, visit: Visit) -> None:
    publish(writer, SCRIPT, NEXT)
    page, reader = visit(writer, address(writer, "drafts")), visit(crew, address(crew, "script", 2))
    page.get_by_role("link", name="Withdraw it").first.click()  # the latest stands first
    page.get_by_label("Why").fill("That was the wrong file.")
    page.get_by_role("button", name="Withdraw draft 2").click()
    expect(page.get_by_text("That was the wrong file.")).to_be_visible()
    reader.reload()
    expect(reader.get_by_text("The tide turns at five.")).to_have_count(0)
    reader.goto(address(crew, "script-current"))
    expect(reader).to_have_url(re.compile(address(crew, "script", 1)))
    page.get_by_role("link", name="What went with it").click()
    page.get_by_role("button", name="Put draft 2 up again").click()
    reader.goto(address(crew, "script-current"))
    expect(reader).to_have_url(re.compile(address(crew, "script", 2)))


SCREENS = ["draft-upload", "draft-report", "changes-between", "change-sheet", "voices"]
NUMBERS: dict[str, list[int | str]] = {
    "draft-report": [2],
    "changes-between": [1, 2],
    "change-sheet": [1, 2, "production"],
    "voices": [2],
}


def test_nothing_stands_in_a_readers_way(writer: Member, crew: Member, visit: Visit) -> None:
    [first] = publish(writer, SCRIPT)
    make_note(crew, first, 9)
    publish(writer, NEXT + "\nAn [[unclosed thought.\n")
    page = visit(writer, address(writer, "drafts"), **LOOKED_AT)
    for screen in SCREENS:
        page.goto(address(writer, screen, *NUMBERS.get(screen, [])))
        shuts_nobody_out(page, DESK_BY_NIGHT_PHONE_BY_DAY)
    held = hold_draft(writer, read_text(NEXT + "\nAn [[unclosed thought, longer.\n"))
    page.goto(address(writer, "draft-held", held.public_id))
    shuts_nobody_out(page, DESK_BY_NIGHT_PHONE_BY_DAY)
    withdraw_draft(writer, writer.production.drafts.get(number=2), "The wrong file.")
    for at in (address(writer, "drafts"), address(writer, "draft-withdraw", 2)):
        page.goto(at)
        shuts_nobody_out(page, DESK_BY_NIGHT_PHONE_BY_DAY)


def test_an_unchanged_stretch_comes_when_it_is_opened(writer: Member, crew: Member, visit: Visit) -> None:
    oars = "".join(f"Oar {number} is wet.\n\n" for number in range(9))
    old = f"INT. LOFT - DAY\n\n{oars}A bell rings.\n"
    publish(writer, old, old.replace("rings.", "rings twice."))
    page = visit(crew, address(crew, "changes-between", 1, 2))
    page.get_by_text("lines unchanged").click()
    expect(page.get_by_text("Oar 2 is wet.")).to_be_visible()
    expect(page.get_by_role("link", name="See them in the whole script")).to_have_count(0)
