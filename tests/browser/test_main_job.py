"""One whole round of the job in three browsers: a writer, and two heads of department, one of them on a phone."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import pytest
from playwright.sync_api import expect

from review.people.acts import new_setup_code
from tests.browser.conftest import DESK, PHONE

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from playwright.sync_api import Browser, Page
    from pytest_django.live_server_helper import LiveServer

FIRST = """Title: Slack Water
Author: Ada Wren
Draft date: 1 May

INT. BOATHOUSE - NIGHT

NELL mends a net by one lamp.

NELL
Tide turns at four.

TOBIAS (O.S.)
Then we go at three.

EXT. SLIPWAY - DAWN

Mist. The skiff is gone.

NELL
He did not wait for me.

INT. KITCHEN - DAY

A kettle screams and nobody comes.

EXT. HARBOUR WALL - DUSK

Nell counts the masts. One short.
"""

SECOND = """Title: Slack Water
Author: Ada Wren
Draft date: 9 May

EXT. HARBOUR WALL - DUSK

Nell counts the masts. One short.

INT. BOATHOUSE - NIGHT

NELL mends a net by one lamp.

NELL
Tide turns at four o'clock.

TOBIAS (O.S.)
Then we go at three.

EXT. SLIPWAY - DAWN

Mist. The skiff is gone.

NELL
He did not wait for me.

EXT. CHANDLERY YARD - MORNING

Tobias buys rope on credit.
"""


@pytest.fixture
def somebody(browser: Browser, live_server: LiveServer, transactional_db: None) -> Iterator[Callable[..., Page]]:
    """Gives a page in a browser of somebody's own, who is signed in nowhere; an error of a script fails the test."""
    contexts, errors = [], []

    def somebody(viewport: dict[str, int], **options: Any) -> Page:
        context = browser.new_context(
            viewport=viewport,  # type: ignore[arg-type]
            base_url=live_server.url,
            reduced_motion="reduce",
            **options,
        )
        contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.on("console", lambda said: errors.append(said.text + str(said.location)) if said.type == "error" else None)
        return page

    yield somebody
    for context in contexts:
        context.close()
    assert not [
        error
        for error in errors
        if not re.search(r"status of (409|410)|ERR_INTERNET_DISCONNECTED|htmx:(sendError|afterRequest)", error)
    ]


def in_nav(page: Page, name: str) -> None:
    page.get_by_role("navigation", name="Production").get_by_role("link", name=name, exact=True).click()


def open_script(page: Page) -> None:
    in_nav(page, "Script")
    page.wait_for_url("**/script/")
    page.wait_for_load_state()


def set_up(page: Page, code: str) -> None:
    page.goto("/")
    page.get_by_label("The one-time code").fill(code.lower())
    page.get_by_label("Your name").fill("Ada Wren")
    page.get_by_label("Your e-mail address").fill("ada@example.org")
    page.get_by_label("A password").fill("a long walk at slack water")
    page.get_by_label("The production").fill("Slack Water")
    page.get_by_role("button", name="Begin").click()


def invite(page: Page, name: str, department: str) -> str:
    """The link that lets one person in."""
    in_nav(page, "People")
    page.get_by_label("Name", exact=True).fill(name)
    page.get_by_label("Department").select_option(label=department)
    page.get_by_role("button", name="Make the link").click()
    return page.locator("#fresh-link").input_value()


def join(page: Page, link: str, email: str) -> None:
    page.goto(link)
    page.get_by_label("Your e-mail address").fill(email)
    page.get_by_role("button", name="Join", exact=True).click()
    expect(page.get_by_role("heading", name="Slack Water")).to_be_visible()


def line(page: Page, text: str) -> Any:
    return page.locator(".paper [id^=L]", has_text=text).first


def leave_note(page: Page, kind: str, body: str, *, wording: str = "", for_writer: bool = False) -> None:
    """Fill the note's form, which is open, and send it."""
    form = page.locator("#note-form")
    form.locator(f'input[name="kind"][value="{kind}"]').check()
    form.locator('textarea[name="body"]').fill(body)
    if wording:
        form.get_by_text("Offer a wording").click()
        form.locator('textarea[name="wording"]').fill(wording)
    if for_writer:
        form.locator('input[name="audience"][value="writer"]').check()
    form.get_by_role("button", name="Leave the note").click()
    expect(page.locator("#note-form")).not_to_be_visible()


def note(page: Page, body: str) -> Any:
    return page.locator("article.note", has_text=body)


def decide(page: Page, body: str, choice: str, reason: str) -> None:
    card = note(page, body)
    card.locator(f'label[for$="-{choice}"]').click()
    card.get_by_label("Reason").fill(reason)
    card.get_by_role("button", name=re.compile("^Decide")).click()


def test_three_people_take_a_script_through_one_round(somebody: Callable[..., Page], tmp_path: Path) -> None:
    writer, camera, sound = somebody(DESK), somebody(PHONE, has_touch=True, is_mobile=True), somebody(DESK)

    # 1. The writer sets the server up and puts up a file; they see what was read, and the pages.
    set_up(writer, new_setup_code())
    (tmp_path / "slack-water.fountain").write_text(FIRST, encoding="utf-8")
    writer.locator('input[type="file"]').set_input_files(tmp_path / "slack-water.fountain")
    writer.get_by_role("button", name="See it as it will be").click()
    writer.get_by_role("button", name="Put it up").click()
    expect(writer.get_by_role("main")).to_contain_text("4")
    expect(writer.get_by_role("main")).to_contain_text("INT. BOATHOUSE - NIGHT")
    expect(writer.get_by_role("main")).to_contain_text("NELL")
    open_script(writer)
    expect(writer.locator("#page-1")).to_contain_text("NELL mends a net by one lamp.")

    # 2. Two heads of department come in by a link each; a used link lets nobody else in.
    for_camera, for_sound = invite(writer, "Bo Finch", "Camera"), invite(writer, "Cleo Marsh", "Sound")
    join(camera, for_camera, "bo@example.org")
    join(sound, for_sound, "cleo@example.org")
    stranger = somebody(DESK)
    assert "410" in str(getattr(stranger.goto(for_camera), "status", ""))
    expect(stranger.get_by_role("heading", name="has been used")).to_be_visible()

    # 3. One taps lines on a phone, the other uses the keyboard; what is half typed survives a reload and a lost line.
    open_script(camera)
    line(camera, "NELL mends a net").tap()
    camera.get_by_role("button", name="Leave a note").tap()
    camera.locator('#note-form textarea[name="body"]').fill("One lamp, half")
    expect(camera.locator("#note-form [data-kept-state]")).to_have_text("Kept on this device")
    camera.reload()
    line(camera, "NELL mends a net").tap()
    camera.get_by_role("button", name="Leave a note").tap()
    expect(camera.locator('#note-form textarea[name="body"]')).to_have_value("One lamp, half")
    camera.context.set_offline(True)
    camera.locator('#note-form input[name="kind"][value="practical"]').check()
    camera.locator('#note-form textarea[name="body"]').fill("One lamp: may it be a *real* one?")
    camera.get_by_role("button", name="Leave the note").tap()
    expect(camera.locator("#note-form [data-not-sent]")).to_be_visible()
    camera.context.set_offline(False)  # and it goes by itself
    expect(camera.locator("#note-form")).not_to_be_visible()
    expect(camera.locator("article.note em", has_text="real").first).to_be_attached()

    open_script(sound)
    line(sound, "Tide turns at four.").click()
    sound.keyboard.press("Enter")
    leave_note(sound, "idea", "Say o'clock, it sits better.", wording="Tide turns at four o'clock.")
    line(sound, "A kettle screams").click()
    sound.keyboard.press("Shift+ArrowUp")
    sound.keyboard.press("Enter")
    leave_note(sound, "confusion", "Whose kitchen is this?")
    line(sound, "He did not wait").click()
    sound.keyboard.press("Enter")
    leave_note(sound, "problem", "I would rather tell only you.", for_writer=True)
    reply = note(sound, "real")
    reply.get_by_text("Reply", exact=True).first.click()
    reply.locator('textarea[name="body"]').fill("If it hisses, tell me first.")
    reply.get_by_role("button", name="Reply").click()
    expect(note(sound, "If it hisses, tell me first.")).to_be_visible()

    # A note for the writer's eyes only is not for the other head of department, nor for a stranger.
    camera.reload()
    expect(camera.locator("body")).not_to_contain_text("I would rather tell only you.")
    expect(camera.locator("body")).to_contain_text("Whose kitchen is this?")

    # 4. The writer decides, and is told when it was decided elsewhere first; the readers see it at the note.
    in_nav(writer, "Notes")
    other_tab = writer.context.new_page()
    other_tab.goto(writer.url)
    decide(writer, "Say o'clock", "accepted", "Yes, it scans.")
    expect(note(writer, "Say o'clock")).to_contain_text("Accepted")
    decide(other_tab, "Say o'clock", "declined", "Too long.")
    expect(note(other_tab, "Say o'clock")).to_contain_text("Yes, it scans.")
    expect(note(other_tab, "Say o'clock").get_by_label("Reason")).to_have_value("Too long.")
    decide(writer, "Whose kitchen", "accepted", "Nobody's any more: the scene goes.")
    decide(writer, "One lamp", "parked", "")
    sound.reload()
    expect(note(sound, "Say o'clock")).to_contain_text("Accepted")
    expect(note(sound, "Say o'clock")).to_contain_text("Yes, it scans.")

    # 5. The next draft, pasted: every note follows its lines, and one whose lines are gone is set by hand.
    in_nav(writer, "Drafts")
    writer.get_by_role("link", name=re.compile("Put up")).first.click()
    writer.locator("textarea").first.fill(SECOND)
    writer.get_by_role("button", name="See it as it will be").click()
    expect(writer.locator("[data-question]")).to_have_count(2)
    writer.get_by_role("button", name="Put it up").click()
    expect(writer.get_by_role("main")).to_contain_text("EXT. CHANDLERY YARD - MORNING")
    open_script(sound)
    expect(note(sound, "Say o'clock")).to_contain_text("Reworded")
    expect(note(sound, "Say o'clock")).to_contain_text("Written in, draft 2")
    expect(note(sound, "One lamp").or_(note(sound, "real")).first).to_be_visible()
    gone = sound.locator("#gone")
    expect(gone).to_contain_text("Whose kitchen is this?")
    expect(gone).to_contain_text("A kettle screams")
    writer.goto(re.sub(r"/p/([^/]+)/.*", r"/p/\1/notes/?state=all", writer.url))
    writer.locator("#gone .on-lines", has_text="Whose kitchen").get_by_role("link", name="Set its place").click()
    rope = writer.locator(".script-line", has_text="Tobias buys rope on credit.")
    number = str(rope.get_attribute("data-line"))
    rope.get_by_role("link").click()
    expect(writer.get_by_label("First line")).to_have_value(number)
    writer.get_by_role("button", name="Set its place").click()
    open_script(sound)
    expect(note(sound, "Whose kitchen")).to_contain_text("Placed by hand")

    # 6. Anyone compares the two drafts.
    in_nav(sound, "Changes")
    changes = sound.get_by_role("main")
    for heading, fate in [("HARBOUR WALL", "moved"), ("KITCHEN", "cut"), ("CHANDLERY", "added")]:
        expect(changes).to_contain_text(heading)
        expect(changes).to_contain_text(re.compile(fate, re.IGNORECASE))
    expect(changes.locator("ins").filter(has_text="o'clock").first).to_be_attached()

    # 7. Everyone sees how each character talks.
    in_nav(sound, "Voices")
    row = sound.locator(".voices-table tr", has_text="NELL")
    expect(row).to_contain_text("11")
    expect(row).to_contain_text("0 %")
