"""An older draft's text made the working draft again, the open one set aside for it."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from django.urls import reverse

from review.drafts.texts import hash_text
from review.rewriting.acts import begin_working
from review.rewriting.scene_acts import save_scene
from tests.factories import make_draft

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.rewriting.models import WorkingDraft

pytestmark = pytest.mark.django_db

FIRST = "INT. FERRY - DAY\n\nRain.\n\nEXT. PIER - DAY\n\nFog.\n"
SECOND = FIRST.replace("Fog.", "Clear.")


@pytest.fixture
def first(writer: Member) -> Draft:
    return make_draft(writer, FIRST)


@pytest.fixture
def second(writer: Member, first: Draft) -> Draft:
    return make_draft(writer, SECOND, number=2)


def address(writer: Member, name: str, *args: object) -> str:
    return reverse(name, args=[writer.production.public_id, *args])


def opened(writer: Member) -> WorkingDraft:
    found = writer.production.working_drafts.open_now()
    assert found is not None
    return found


def begun_and_written(writer: Member, base: Draft) -> WorkingDraft:
    working = begin_working(writer, base, uuid.uuid4())
    save_scene(writer, working.scenes.get(position=1), "INT. FERRY - DAY\n\nHail.\n\n", 1, uuid.uuid4())
    return working


def test_the_drafts_screen_offers_to_write_on_from_an_older_one(
    client: Client, writer: Member, crew: Member, second: Draft, signed_in: Callable[[Member], Client]
) -> None:
    drafts = address(writer, "drafts")
    page = client.get(drafts).content.decode()
    assert address(writer, "draft-restore", 1) in page
    assert address(writer, "draft-restore", 2) not in page  # it is the current one
    assert address(writer, "draft-restore", 1) not in signed_in(crew).get(drafts).content.decode()


def test_an_older_draft_becomes_the_working_draft(client: Client, writer: Member, second: Draft) -> None:
    client.post(address(writer, "draft-restore", 1), {"form_id": uuid.uuid4()})
    working = opened(writer)
    assert working.joined_text() == FIRST
    assert (working.base, working.restored) == (second, writer.production.drafts.get(number=1))


def test_it_says_first_that_an_open_working_draft_is_set_aside(client: Client, writer: Member, second: Draft) -> None:
    working = begun_and_written(writer, second)
    page = client.get(address(writer, "draft-restore", 1)).content.decode()
    assert "It is set aside with every word in it" in page
    assert opened(writer) == working


def test_one_that_the_page_did_not_name_is_not_set_aside(client: Client, writer: Member, second: Draft) -> None:
    working = begun_and_written(writer, second)
    told = client.post(address(writer, "draft-restore", 1), {"form_id": uuid.uuid4()})
    assert told.status_code == 409
    assert "Something changed since you opened this page" in told.text
    assert opened(writer) == working


def test_a_restored_draft_is_put_up_as_the_next_one(client: Client, writer: Member, second: Draft) -> None:
    client.post(address(writer, "draft-restore", 1), {"form_id": uuid.uuid4()})
    sent = {"working": opened(writer).public_id, "seen": hash_text(FIRST), "colour": "Blue"}
    assert "Put up draft 3" in client.get(address(writer, "working-publish")).text
    for _ in range(2):
        response = client.post(address(writer, "working-publish"), sent)
        assert response["Location"] == address(writer, "draft-report", 3)
    assert [draft.text for draft in writer.production.drafts.all()] == [FIRST, SECOND, FIRST]
    for name in ("draft-report", "changes-between"):
        numbers = [3] if name == "draft-report" else [2, 3]
        assert client.get(address(writer, name, *numbers)).status_code == 200


def test_sending_the_form_twice_restores_once(client: Client, writer: Member, second: Draft) -> None:
    form = {"form_id": uuid.uuid4()}
    for _ in range(2):
        client.post(address(writer, "draft-restore", 1), form)
    assert writer.production.working_drafts.count() == 1


def test_setting_aside_leaves_none_open(client: Client, writer: Member, second: Draft) -> None:
    begun_and_written(writer, second)
    client.post(address(writer, "working-set-aside"))
    assert writer.production.working_drafts.open_now() is None
    assert "Hail." in writer.production.working_drafts.get().joined_text()


def test_a_scene_of_one_that_was_set_aside_leads_back_and_stores_nothing(
    client: Client, writer: Member, second: Draft
) -> None:
    working = begun_and_written(writer, second)
    scene = working.scenes.get(position=1)
    client.post(address(writer, "working-set-aside"))
    form = {"text": "INT. FERRY - DAY\n\nSnow.", "seen": scene.version, "form_id": uuid.uuid4()}
    response = client.post(address(writer, "working-scene", scene.public_id), form)
    assert response["Location"] == address(writer, "working")
    assert "Snow." not in working.joined_text()


def test_a_draft_that_is_not_there_cannot_be_restored(client: Client, writer: Member, second: Draft) -> None:
    assert client.get(address(writer, "draft-restore", 7)).status_code == 404
