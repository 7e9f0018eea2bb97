"""Readings in a real browser: on the script, scene by scene, and what came of them."""

from __future__ import annotations

import uuid
from datetime import timedelta
from typing import TYPE_CHECKING, Any

from django.urls import reverse
from django.utils import timezone
from playwright.sync_api import expect

from review.access import Role
from review.people.models import Department
from review.readers.models import Reading
from review.readings.models import SceneRead
from review.readings.question_acts import Asking, answer_questions, ask
from review.readings.reader_acts import mark_scene
from review.talks.acts import When, call_talk
from tests.browser.reach import DESK_BY_DAY_PHONE_BY_NIGHT, LOOKED_AT, shuts_nobody_out
from tests.browser.script_steps import script_of
from tests.factories import make_member, make_note, make_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

    from review.drafts.models import Draft
    from review.people.models import Member

    Visit = Callable[..., Page]


SECONDS_TILL_TOLD = 11


def at(reading: Reading, name: str, *more: Any) -> str:
    return reverse(name, args=[reading.production.public_id, reading.public_id, *more])


def test_on_the_script_one_tap_says_how_a_scene_was_and_what_was_on_screen_is_told(
    writer: Member, crew: Member, draft: Draft, visit: Visit
) -> None:
    reading = make_reading(writer, draft, crew)
    page = visit(crew, script_of(draft), own_clock=True)
    end = page.locator("#scene-end-2")
    end.get_by_role("button", name="Lost me").click()
    expect(end.get_by_role("button", name="Lost me", pressed=True)).to_be_visible()
    with page.expect_response("**/progress/"):
        page.clock.run_for(SECONDS_TILL_TOLD * 1000)
    assert SceneRead.objects.filter(reader__member=crew, seconds__gt=0).exists()
    page.goto(at(reading, "reading"))
    expect(page.locator("#scene-2").get_by_text("Lost me")).to_be_visible()


def test_all_none_and_whole_departments_are_chosen_at_one_press_and_how_many_is_said(
    writer: Member, crew: Member, draft: Draft, visit: Visit
) -> None:
    for name, department in (("Ida Moss", Department.CAMERA), ("Lev Arden", Department.SOUND)):
        make_member(writer.production, Role.CREW, department, name)
    page = visit(writer, reverse("reading-new", args=[writer.production.public_id]))
    said = page.locator("[data-who-chosen]")
    expect(said).to_have_text("3 of 3 chosen")
    page.get_by_role("button", name="None", exact=True).click()
    expect(said).to_have_text("Nobody chosen yet")
    page.get_by_label("All of camera").check()
    expect(said).to_have_text("2 of 3 chosen")
    page.get_by_label("Ida Moss").uncheck()
    expect(page.get_by_label("All of camera")).not_to_be_checked()
    page.get_by_role("button", name="Open the reading").click()
    expect(page.get_by_text("The reading is open.")).to_be_visible()
    assert [reader.member for reader in Reading.objects.get().readers.all()] == [crew]


def test_what_could_not_be_sent_is_said_to_be_kept_only_where_it_is(
    writer: Member, crew: Member, draft: Draft, visit: Visit
) -> None:
    reading = make_reading(writer, draft, crew)
    page = visit(crew, at(reading, "reading-finish"))
    finish = page.get_by_role("button", name="I have finished")
    not_sent = page.locator("#finish-form [data-not-sent]")
    page.route("**/finish/", lambda route: route.fulfill(status=500, body="<h1>Oh</h1>"), times=1)
    finish.click()
    expect(not_sent).to_have_text(
        "Not sent: the server had trouble. Nothing of it is kept on this device. “I have finished” sends it again."
    )
    page.context.set_offline(True)
    finish.click()
    expect(not_sent).to_have_text(
        "Not sent: the connection dropped. Nothing of it is kept on this device."
        " “I have finished” sends it again once it is back."
    )
    page.context.set_offline(False)
    ask(writer, reading, Asking("Whose lamp?"), uuid.uuid4())
    page.reload()
    page.get_by_label("Your answer").fill("Nell’s")
    page.route("**/finish/", lambda route: route.fulfill(status=500, body="<h1>Oh</h1>"), times=1)
    page.get_by_role("button", name="Keep these for now").click()
    expect(not_sent).to_contain_text("Your words are kept on this device. “Keep these for now” sends them again.")
    assert not reading.readers.filter(finished_at__isnull=False).exists()


def test_every_state_is_accessible_and_fits(writer: Member, crew: Member, draft: Draft, visit: Visit) -> None:
    reading = make_reading(writer, draft, crew)
    question = ask(writer, reading, Asking("Whose lamp?", answered_by="scale", intended="4"), uuid.uuid4())
    mark_scene(crew, reading, 1, "lost", "whose lamp is it")
    answer_questions(crew, reading, {question.public_id: "2"})
    page = visit(crew, script_of(draft), **LOOKED_AT)
    expect(page.locator(".scene-end")).to_have_count(2)
    shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
    for name, more in (("reading-scene", (2,)), ("reading-finish", ())):
        page.goto(at(reading, name, *more))
        shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
    page = visit(writer, at(reading, "reading-learned"), **LOOKED_AT)
    shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
    for name in ("reading-questions", "reading-readers"):
        page.goto(at(reading, name))
        shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
    make_note(crew, draft, 6)
    make_note(crew, draft, 17)
    talk = call_talk(writer, draft, [crew], When(timezone.now() + timedelta(days=1), 60, "Net loft"), uuid.uuid4())
    page.goto(reverse("talk", args=[writer.production.public_id, talk.public_id]))
    expect(page.get_by_role("button", name="Copy the message")).to_be_visible()
    shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
    decided, following = page.locator("[data-decided-in-turn] .note").all()
    decided.get_by_text("Park").click()
    decided.get_by_role("button", name="Decide").click()
    expect(page.locator("#talk-sum")).to_contain_text("1 open note, ")
    expect(following).to_be_focused()
