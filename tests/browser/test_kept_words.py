"""What is half typed is kept: over reloads, lost connections, lost answers and sign-outs, on any screen."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from django.urls import reverse
from playwright.sync_api import expect

from review.notes.models import Note, Reply
from review.notes_screen.looks import choose_look
from review.notes_screen.models import Look
from review.readers.models import Reading
from review.talks.models import Talk
from screenplay import paginate, parse
from screenplay.printing import print_pages
from tests.browser.script_steps import form_of, keeps_nothing, open_form_on_line, script_of, write
from tests.factories import SCRIPT, make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import BrowserContext, Page

    from review.drafts.models import Draft
    from review.people.models import Member

    Visit = Callable[..., Page]

# A page knows that it is offline before the browser's network does.
NOTHING_COMES = "() => fetch('/healthy/').then(() => false, () => true)"


def test_a_half_typed_note_survives_a_reload(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    write(open_form_on_line(page, 6), "Why a lamp, when", kind="Confusion")
    page.reload()
    expect(page.get_by_text("Half-written note on page 1")).to_be_visible()
    page.get_by_role("button", name="Go on").click()
    form = form_of(page)
    expect(form.get_by_label("Your note")).to_have_value("Why a lamp, when")
    expect(form.get_by_role("radio", name="Confusion")).to_be_checked()
    expect(form.get_by_text("Your words from before are back.")).to_be_visible()


def test_a_half_typed_change_of_a_note_survives_a_reload_until_it_is_sent(
    visit: Visit, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 6, body="Is this night?")
    page = visit(crew, script_of(draft))
    page.get_by_role("link", name="Change", exact=True).click()
    page.get_by_label("Your note", exact=True).fill("Is this dusk?")
    expect(page.get_by_text("Kept on this device")).to_be_visible()
    page.reload()
    expect(page.get_by_label("Your note", exact=True)).to_have_value("Is this dusk?")
    expect(page.get_by_text("Your words from before are back.")).to_be_visible()
    page.get_by_role("button", name="Change the note").click()
    expect(page.locator(f"#note-{note.public_id}")).to_contain_text("Is this dusk?")
    page.locator(f"#note-{note.public_id}").get_by_role("link", name="Change", exact=True).click()
    expect(page.get_by_text("Your words from before are back.")).to_be_hidden()


def test_kept_words_can_be_discarded(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    write(open_form_on_line(page, 6), "Never mind")
    page.reload()
    page.get_by_role("button", name="Go on").click()
    form_of(page).get_by_role("button", name="Discard them").click()
    expect(form_of(page).get_by_label("Your note")).to_have_value("")
    page.reload()
    expect(page.get_by_text("Half-written note")).to_have_count(0)


def test_beginning_another_note_keeps_the_first(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    write(open_form_on_line(page, 6), "The first")
    open_form_on_line(page, 9)
    expect(form_of(page).locator(".quoted")).to_have_text("Tide turns at four.")
    write(form_of(page), "The second")
    page.reload()
    expect(page.locator("[data-kept-notice] li")).to_have_count(2)


def test_a_note_not_sent_for_want_of_a_connection_is_kept_and_sent_again(
    visit: Visit, crew: Member, draft: Draft
) -> None:
    page = visit(crew, script_of(draft))
    write(open_form_on_line(page, 6), "Is it safe to row in that?")
    page.context.set_offline(True)
    form_of(page).get_by_role("button", name="Leave the note").click()
    expect(
        form_of(page).get_by_text("Not sent: the connection dropped. Your words are kept on this device.")
    ).to_be_visible()
    expect(form_of(page).get_by_label("Your note")).to_have_value("Is it safe to row in that?")
    assert not Note.objects.exists()
    page.context.set_offline(False)
    expect(page.get_by_role("article")).to_be_visible()
    expect(form_of(page)).to_have_count(0)
    expect(page.locator("[data-said]")).to_have_text("What you wrote without a connection has been sent.")
    assert Note.objects.get().body == "Is it safe to row in that?"
    keeps_nothing(page)


def test_a_note_that_arrived_though_its_answer_was_lost_is_made_once(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    write(open_form_on_line(page, 6), "Once is enough")

    def arrive_and_lose_the_answer(route: object) -> None:
        route.fetch()  # type: ignore[attr-defined]
        route.abort("connectionreset")  # type: ignore[attr-defined]

    page.route("**/notes/new/", arrive_and_lose_the_answer, times=1)
    form_of(page).get_by_role("button", name="Leave the note").click()
    expect(form_of(page).get_by_text("Not sent")).to_be_visible()
    assert Note.objects.count() == 1
    page.reload()
    expect(page.get_by_role("article")).to_contain_text("Once is enough")
    expect(page.get_by_text("Half-written note")).to_have_count(0)
    assert Note.objects.count() == 1


def test_a_server_in_trouble_leaves_the_words_where_they_are(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    write(open_form_on_line(page, 6), "Still here")
    page.route("**/notes/new/", lambda route: route.fulfill(status=500, body="<h1>Oh</h1>"), times=1)
    form_of(page).get_by_role("button", name="Leave the note").click()
    expect(form_of(page).get_by_text("Not sent: the server had trouble.")).to_be_visible()
    expect(form_of(page).get_by_label("Your note")).to_have_value("Still here")


def test_a_server_in_trouble_leaves_half_a_reason_kept_where_the_notes_are_seen_closely(
    visit: Visit, writer: Member, crew: Member, draft: Draft
) -> None:
    make_note(crew, draft, 6)
    choose_look(writer, Look.COMPACT)
    page = visit(writer, reverse("notes", args=[draft.production.public_id]))
    row = page.get_by_role("article")
    reason = row.locator("[name=reason]")
    row.locator(".row-fold > summary").click()
    row.locator(".decide-declined").click()
    reason.fill("The lamp stays")
    page.route("**/decision/", lambda route: route.fulfill(status=500, body="<h1>Oh</h1>"), times=1)
    row.get_by_role("button", name="Decide").click()
    expect(row.get_by_text("Not sent: the server had trouble. Your words are kept on this device.")).to_be_visible()
    page.reload()
    expect(reason).to_have_value("The lamp stays")


def test_someone_signed_out_meanwhile_keeps_their_words(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    write(open_form_on_line(page, 6), "Let me finish")
    page.context.clear_cookies(name="sessionid")
    form_of(page).get_by_role("button", name="Leave the note").click()
    expect(form_of(page).get_by_text("Not sent: you are signed out.")).to_be_visible()
    expect(form_of(page).get_by_label("Your note")).to_have_value("Let me finish")


def test_a_form_refused_says_why_and_keeps_what_was_written(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    form = open_form_on_line(page, 6)
    form.get_by_label("Your note").fill("No kind chosen")
    form.get_by_role("button", name="Leave the note").click()
    expect(form_of(page).get_by_text("Choose what kind of note this is.")).to_be_focused()
    expect(form_of(page).get_by_label("Your note")).to_have_value("No kind chosen")


def test_a_half_typed_reply_survives_a_reload_and_a_dropped_connection(
    visit: Visit, crew: Member, writer: Member, draft: Draft
) -> None:
    make_note(writer, draft, 6)
    page = visit(crew, script_of(draft))
    card = page.get_by_role("article")
    card.get_by_text("Reply", exact=True).first.click()
    card.get_by_label("Your reply to Ada Wren").fill("Ask the gaffer, and")
    page.reload()
    expect(card.get_by_label("Your reply to Ada Wren")).to_have_value("Ask the gaffer, and")
    page.context.set_offline(True)
    card.get_by_role("button", name="Reply", exact=True).click()
    expect(card.get_by_text("Not sent: the connection dropped.")).to_be_visible()
    page.context.set_offline(False)  # and it is sent by itself
    expect(card.get_by_role("list", name="Replies")).to_contain_text("Ask the gaffer, and")
    assert Reply.objects.count() == 1
    keeps_nothing(page)


def test_signing_out_leaves_nothing_half_typed_behind(visit: Visit, crew: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    write(open_form_on_line(page, 6), "Between us")
    page.reload()
    page.once("dialog", lambda dialog: dialog.accept())
    page.locator(".top-person summary").click()
    page.get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/account/sign-in/**")
    keeps_nothing(page)


def test_kept_words_are_for_the_person_who_wrote_them(visit: Visit, crew: Member, writer: Member, draft: Draft) -> None:
    page = visit(crew, script_of(draft))
    write(open_form_on_line(page, 6), "Mine alone")
    page.reload()
    expect(page.get_by_text("Half-written note on page 1")).to_be_visible()
    beginning = page.locator("[data-kept-notice]").get_attribute("data-kept-notice") or ""
    assert crew.person.public_id in beginning
    assert page.evaluate("Object.keys(localStorage)") == [beginning + "6.0-6.29"]


def test_what_waits_for_the_connection_is_sent_in_its_writer_s_name_alone(
    visit: Visit,
    sign_in: Callable[[BrowserContext, Member], None],
    crew: Member,
    writer: Member,
    draft: Draft,
) -> None:
    page = visit(crew, script_of(draft))
    write(open_form_on_line(page, 6), "Mine alone")
    page.context.set_offline(True)
    page.wait_for_function(NOTHING_COMES)
    form_of(page).get_by_role("button", name="Leave the note").click()
    expect(form_of(page).get_by_text("They are sent by themselves once it is back.")).to_be_visible()
    page.goto("about:blank")
    page.context.set_offline(False)
    sign_in(page.context, writer)
    page.goto(script_of(draft), wait_until="networkidle")
    assert [note.author for note in Note.objects.all()] == []
    sign_in(page.context, crew)
    page.goto(script_of(draft))
    expect(page.get_by_role("article")).to_contain_text("Mine alone")
    assert Note.objects.get().author == crew


def test_a_note_sent_from_the_form_s_own_page_leaves_nothing_half_written(
    visit: Visit, crew: Member, draft: Draft
) -> None:
    page = visit(crew, reverse("note-new", args=[draft.production.public_id, 1]) + "?about=character:NELL")
    write(form_of(page), "Too sure of the tide")
    expect(page.get_by_text("Kept on this device")).to_be_visible()
    form_of(page).get_by_role("button", name="Leave the note").click()
    expect(page.get_by_role("article")).to_contain_text("Too sure of the tide")
    keeps_nothing(page)


def test_notes_written_without_a_connection_are_sent_once_and_in_order_when_it_is_back(
    visit: Visit, crew: Member, draft: Draft
) -> None:
    page = visit(crew, script_of(draft))
    page.context.set_offline(True)
    for line, words in ((6, "The first"), (17, "The second")):
        write(open_form_on_line(page, line), words)
        form_of(page).get_by_role("button", name="Leave the note").click()
        expect(form_of(page).get_by_text("They are sent by themselves once it is back.")).to_be_visible()
        page.keyboard.press("Escape")
        expect(form_of(page)).to_have_count(0)
    page.context.set_offline(False)
    expect(page.get_by_role("article")).to_have_count(2)
    notes = Note.objects.order_by("pk")
    assert [(note.body, note.first_line, note.quoted) for note in notes] == [
        ("The first", 6, "NELL mends a net by one lamp."),
        ("The second", 17, "Mist. The skiff is gone."),
    ]
    keeps_nothing(page)


def test_what_is_pasted_asked_and_taken_down_is_kept_until_it_is_sent(
    visit: Visit, writer: Member, crew: Member, draft: Draft
) -> None:
    upload, ask, call = (
        reverse(name, args=[draft.production.public_id]) for name in ("draft-upload", "reading-new", "talk-new")
    )
    kept, back = "Kept on this device", "Your words from before are back."
    page = visit(writer, upload)
    pasted = page.get_by_label("Or pasted text")
    pasted.fill(print_pages(paginate(parse(SCRIPT.replace("at four", "at five")))))
    page.goto(ask)
    page.get_by_label("What to look for").fill("Does it hold?")
    page.get_by_label("Let everybody read everything").check()
    page.get_by_label(crew.name).uncheck()
    page.goto(call)
    page.get_by_role("textbox", name="Where").fill("Net loft")
    page.get_by_label("It lasts").select_option("Two hours")
    expect(page.get_by_text(kept)).to_be_visible()

    page.goto(ask)
    expect(page.get_by_text(back)).to_be_visible()
    expect(page.get_by_label("Let everybody read everything")).to_be_checked()
    expect(page.locator("[data-who-chosen]")).to_have_text("Nobody chosen yet")
    page.get_by_role("button", name="Open the reading").click()
    expect(page.get_by_text("Choose at least one person or department.")).to_be_visible()
    page.get_by_label(crew.name).check()
    expect(page.locator("[data-who-chosen]")).to_have_text("1 of 1 chosen")
    page.context.set_offline(True)
    page.get_by_role("button", name="Open the reading").click()
    expect(page.get_by_text("They are sent by themselves once it is back.")).to_be_visible()
    page.context.set_offline(False)
    expect(page.get_by_text("The reading is open.")).to_be_visible()
    assert Reading.objects.get().look_for == "Does it hold?"

    page.goto(call)
    expect(page.get_by_label("It lasts")).to_have_value("120")
    page.get_by_role("button", name="Call it").click()
    expect(page.get_by_text("The talk is called.")).to_be_visible()
    assert Talk.objects.get().place == "Net loft"
    page.get_by_label("What they say").fill("Tide first.")
    page.get_by_label("Who says it").select_option(crew.name)
    page.get_by_label("On", exact=True).select_option(index=1)
    page.reload()
    expect(page.get_by_text(back)).to_be_visible()
    page.get_by_role("button", name="Choose its lines").click()
    page.get_by_label("From its line").select_option(index=2)
    page.get_by_role("button", name="Write it down").click()
    expect(page.get_by_text(f"Written down in the name of {crew.name}")).to_be_visible()
    assert Note.objects.get().body == "Tide first."

    page.goto(upload)
    expect(page.get_by_text(back)).to_be_visible()
    see = page.get_by_role("button", name="See it as it will be")
    page.route("**/drafts/new/", lambda route: route.fulfill(status=413, body="<p>Too large.</p>"), times=1)
    see.click()
    refused = "Not sent: it is larger than this server takes. See whether something else came along."
    expect(page.get_by_text(f"{refused} Your words are kept on this device.")).to_be_visible()
    see.click()
    expect(page.get_by_role("alert").filter(has_text="Nothing is up yet.")).to_be_visible()
    read = page.get_by_label("The script, as Fountain")
    expect(read).to_have_value(re.compile(r"^NELL\nTide turns at five\.", re.MULTILINE))  # and not in columns again
    see.click()
    expect(page.get_by_role("heading", name="before it goes up")).to_be_visible()
    keeps_nothing(page)
