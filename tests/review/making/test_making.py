"""What takes long is made apart: it shows how far it is, is begun once, and is handed to whoever asked for it alone."""

from __future__ import annotations

import uuid
from dataclasses import replace
from datetime import timedelta
from typing import TYPE_CHECKING

import pytest
from django.http import HttpResponse
from django.urls import reverse
from django.utils import timezone

from review.access import Deed, Role
from review.drafts.acts import put_up_again, withdraw_draft
from review.drafts.texts import hash_text
from review.making import models
from review.making.acts import begin_making, keep_answer
from review.making.models import Making
from review.making.progress import making_of, tell
from review.people.acts import change_role, role_in_production
from review.rewriting.acts import begin_working
from review.rewriting.scene_acts import save_scene
from review.serving.gateway import GAVE_UP, HANDED_ON, HANDS_ON, MAKING
from tests.factories import SCRIPT, make_draft, make_member, make_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


@pytest.fixture
def pdf(draft: Draft) -> str:
    return reverse("draft-pdf", args=[draft.production.public_id, draft.number])


def place_of(making: Making) -> str:
    return reverse("making", args=[making.production.public_id, making.public_id])


def ask(client: Client, address: str) -> HttpResponse:
    """As it is asked for where a process stands apart."""
    return client.get(address, **{HANDS_ON: True})  # type: ignore[arg-type, return-value]


def make(client: Client, address: str) -> HttpResponse:
    """As the process apart works on what is under way."""
    making = Making.objects.under_way().get(address=address)
    return client.get(address, **{MAKING: making.public_id})  # type: ignore[arg-type, return-value]


def test_what_is_handed_on_shows_that_it_is_being_made(crew: Member, signed_in: SignIn, pdf: str) -> None:
    answer = ask(signed_in(crew), pdf)
    making = Making.objects.get()
    assert answer.status_code == 202
    assert "Draft 1 as a PDF" in answer.text
    assert "It waits for its turn." in answer.text
    assert "Asked for just now." in answer.text
    assert f'href="{place_of(making)}"' in answer.text  # without JavaScript one looks again
    assert answer[HANDED_ON] == f"{making.public_id} {place_of(making)}"


def test_a_second_press_begins_no_second_one(crew: Member, signed_in: SignIn, pdf: str) -> None:
    client = signed_in(crew)
    ask(client, pdf)
    again = ask(client, pdf)
    assert Making.objects.count() == 1
    assert again.status_code == 202
    assert not again.has_header(HANDED_ON)


def test_what_was_made_is_handed_over_to_whoever_asked_for_it(
    crew: Member, cast: Member, writer: Member, signed_in: SignIn, pdf: str
) -> None:
    client = signed_in(crew)
    ask(client, pdf)
    make(client, pdf)
    place = place_of(Making.objects.get())
    answer = client.get(place)
    assert answer.content.startswith(b"%PDF")
    assert answer["Content-Type"] == "application/pdf"
    assert "attachment" in answer["Content-Disposition"]
    assert answer["Cache-Control"] == "private, no-store"
    assert {signed_in(other).get(place).status_code for other in (cast, writer)} == {404}


def test_a_page_that_waits_asks_for_the_line_until_it_is_there(crew: Member, signed_in: SignIn, pdf: str) -> None:
    client = signed_in(crew)
    ask(client, pdf)
    place = place_of(Making.objects.get())
    waits = client.get(place, headers={"HX-Request": "true"}).text
    assert ("every 1s" in waits, "<html" in waits) == (True, False)
    make(client, pdf)
    there = client.get(place, headers={"HX-Request": "true"}).text
    assert ("every 1s" in there, "data-take" in there) == (False, True)


def test_whoever_was_removed_meanwhile_is_handed_nothing(
    crew: Member, production: object, signed_in: SignIn, pdf: str
) -> None:
    client = signed_in(crew)
    ask(client, pdf)
    make(client, pdf)
    crew.removed_at = timezone.now()
    crew.save()
    assert client.get(place_of(Making.objects.get())).status_code == 404


def test_whoever_may_not_do_it_any_more_is_not_told_what_came_of_it(writer: Member, signed_in: SignIn) -> None:
    making, _ = begin_making(writer, Deed.PUBLISH, "/somewhere/", "Putting up", "/", is_sent=True)
    making.status, making.ended_at, making.ending = 200, timezone.now(), Making.Ending.MADE
    making.save()
    client = signed_in(writer)
    assert client.get(place_of(making)).status_code == 200
    writer.role = Role.CREW
    writer.save()
    assert client.get(place_of(making)).status_code == 403


def demote(writer: Member) -> None:
    change_role(
        make_member(writer.production, Role.WRITER), writer, replace(role_in_production(writer), role=Role.CREW)
    )


@pytest.mark.parametrize("is_under_way", [True, False])
def test_what_was_made_for_somebody_who_might_read_more_is_not_handed_over(
    writer: Member, signed_in: SignIn, pdf: str, is_under_way: bool
) -> None:
    """Others' words, and notes for the writer's eyes only, may stand in it."""
    client = signed_in(writer)
    ask(client, pdf)
    if is_under_way:
        with making_of(Making.objects.get()):
            demote(writer)
        keep_answer(Making.objects.get(), HttpResponse(b"%PDF"))
    else:
        make(client, pdf)
        demote(writer)
    place = place_of(Making.objects.get())
    line = client.get(place, headers={"HX-Request": "true"}).text
    assert "data-take" not in line
    told = client.get(place)
    assert told.status_code == 409
    assert "has changed since this was made" in told.text
    assert f'href="{pdf}"' in told.text
    ask(client, pdf)
    make(client, pdf)
    assert client.get(place_of(Making.objects.latest("pk"))).content.startswith(b"%PDF")


def test_what_was_made_before_somebody_reads_alone_again_is_not_handed_over(
    writer: Member, crew: Member, draft: Draft, signed_in: SignIn, pdf: str
) -> None:
    make_reading(writer, draft, crew)
    make_draft(writer, f"{SCRIPT}\nRain.\n", 2)
    withdraw_draft(writer, draft, "Mine.")
    client, address = signed_in(crew), pdf.replace("/1/", "/2/")
    ask(client, address)
    make(client, address)
    place = place_of(Making.objects.get())
    assert client.get(place).content.startswith(b"%PDF")
    put_up_again(writer, draft)
    assert client.get(place).status_code == 409


def test_what_went_wrong_is_said_and_can_be_tried_again(
    crew: Member, signed_in: SignIn, pdf: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    client = signed_in(crew)
    client.raise_request_exception = False
    ask(client, pdf)

    def fail(*args: object, **told: object) -> bytes:
        raise RuntimeError("No ink.")

    with monkeypatch.context() as meanwhile:
        meanwhile.setattr("review.printing.views.draft_print.print_draft", fail)
        make(client, pdf)
    said = client.get(place_of(Making.objects.get()))
    assert said.status_code == 500
    assert "Something went wrong" in said.text
    assert f'href="{pdf}"' in said.text
    assert ask(client, pdf).has_header(HANDED_ON)


def test_a_process_that_ended_leaves_a_sentence(crew: Member, signed_in: SignIn, pdf: str) -> None:
    client = signed_in(crew)
    ask(client, pdf)
    making = Making.objects.get()
    client.get(pdf, **{GAVE_UP: making.public_id})  # type: ignore[arg-type]
    said = client.get(place_of(making))
    assert said.status_code == 503
    assert "it was given up" in said.text


def test_what_was_not_heard_of_for_long_has_died_and_is_begun_anew(crew: Member, signed_in: SignIn, pdf: str) -> None:
    client = signed_in(crew)
    ask(client, pdf)
    Making.objects.update(begun_at=timezone.now(), heard_at=timezone.now() - models.SILENT_FOR - timedelta(seconds=1))
    assert "it was given up" in client.get(place_of(Making.objects.get())).text
    assert ask(client, pdf).has_header(HANDED_ON)
    assert Making.objects.under_way().count() == 1


def test_where_no_process_stands_apart_the_answer_comes_at_once(crew: Member, signed_in: SignIn, pdf: str) -> None:
    assert signed_in(crew).get(pdf).content.startswith(b"%PDF")
    assert not Making.objects.exists()


def test_a_draft_that_is_not_there_is_not_begun(crew: Member, signed_in: SignIn, pdf: str) -> None:
    assert ask(signed_in(crew), pdf.replace("/1/", "/9/")).status_code == 404
    assert not Making.objects.exists()


def test_a_form_with_a_mistake_is_handed_over_with_its_sentence(crew: Member, signed_in: SignIn, pdf: str) -> None:
    client, address = signed_in(crew), f"{pdf}?paper=papyrus"
    ask(client, address)
    make(client, address)
    assert client.get(place_of(Making.objects.get())).status_code == 422


def test_publishing_is_made_apart_and_leads_on_to_its_report(writer: Member, signed_in: SignIn, draft: Draft) -> None:
    working = begin_working(writer, draft, draft.production.form_id)
    scene = working.scenes.get(position=1)
    save_scene(writer, scene, f"{scene.text}And rain.\n\n", 1, working.form_id)
    client, address = signed_in(writer), reverse("working-publish", args=[writer.production.public_id])
    form = {"working": working.public_id, "seen": hash_text(working.joined_text()), "colour": "Blue"}
    assert client.post(address, form, **{HANDS_ON: True}).status_code == 202  # type: ignore[arg-type]
    assert writer.production.drafts.count() == 1
    client.post(address, form, **{MAKING: Making.objects.get().public_id})  # type: ignore[arg-type]
    led = client.get(place_of(Making.objects.get()))
    assert (led.status_code, led["Location"]) == (302, reverse("draft-report", args=[writer.production.public_id, 2]))
    assert writer.production.drafts.count() == 2


@pytest.mark.django_db(transaction=True)
def test_how_far_it_is_is_told_while_it_is_made(crew: Member, signed_in: SignIn, pdf: str) -> None:
    client = signed_in(crew)
    ask(client, pdf)
    making = Making.objects.get()
    tell("Nobody waits for this", 1, 2)
    with making_of(making):
        tell("Its pages are set", 3, 120)
        line = client.get(place_of(making), headers={"HX-Request": "true"}).text
    assert "Its pages are set: 3 of 120." in line
    assert '<progress value="3" max="120"' in line


def test_what_is_kept_has_a_bound_in_bytes_and_in_time(crew: Member, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(models, "MOST_BYTES", 250)
    for nth in range(4):
        making, _ = begin_making(crew, Deed.READ, f"/{nth}/", "A file", "/", is_sent=False)
        keep_answer(making, HttpResponse(b"x" * 100))
    assert sorted(Making.objects.values_list("address", flat=True)) == ["/2/", "/3/"]
    Making.objects.update(ended_at=timezone.now() - models.KEPT_FOR - timedelta(seconds=1))
    begin_making(crew, Deed.READ, "/next/", "A file", "/", is_sent=False)
    assert list(Making.objects.values_list("address", flat=True)) == ["/next/"]


def test_changes_are_set_out_apart_the_first_time_and_then_led_to(
    crew: Member, writer: Member, signed_in: SignIn, draft: Draft
) -> None:
    make_draft(writer, f"{SCRIPT}\nAnd {uuid.uuid4()}.\n", 2)  # a text that was never compared
    client, address = signed_in(crew), reverse("changes-between", args=[crew.production.public_id, 1, 2])
    assert ask(client, address).status_code == 202
    make(client, address)
    assert client.get(place_of(Making.objects.get()))["Location"] == address
    assert ask(client, address).status_code == 200
    assert Making.objects.count() == 1
    assert ask(client, f"{address}?view=two").status_code == 202
