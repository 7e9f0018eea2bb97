"""Going on with a working draft that was set aside."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from django.urls import reverse

from review.rewriting.acts import begin_working, set_aside_working
from review.rewriting.scene_acts import save_scene
from tests.factories import make_draft

if TYPE_CHECKING:
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


def test_one_that_was_set_aside_is_taken_up_with_every_word(client: Client, writer: Member, second: Draft) -> None:
    working = begun_and_written(writer, second)
    text = working.joined_text()
    client.post(address(writer, "draft-restore", 1), {"form_id": uuid.uuid4(), "set_aside": working.public_id})
    restored = opened(writer)
    assert restored != working
    assert address(writer, "working-take-up", working.public_id) in client.get(address(writer, "working")).text
    client.post(address(writer, "working-take-up", working.public_id), {"set_aside": restored.public_id})
    assert opened(writer) == working
    assert working.joined_text() == text
    restored.refresh_from_db()
    assert restored.set_aside_at is not None


def test_with_none_open_one_press_takes_it_up(client: Client, writer: Member, second: Draft) -> None:
    working = begun_and_written(writer, second)
    set_aside_working(writer, working)
    assert client.get(address(writer, "working-take-up", working.public_id)).status_code == 200
    assert writer.production.working_drafts.open_now() is None
    response = client.post(address(writer, "working-take-up", working.public_id))
    assert response["Location"] == address(writer, "working")
    assert opened(writer) == working


def test_one_that_the_page_did_not_name_is_not_set_aside_for_it(client: Client, writer: Member, second: Draft) -> None:
    working = begun_and_written(writer, second)
    set_aside_working(writer, working)
    other = begin_working(writer, second, uuid.uuid4())
    told = client.post(address(writer, "working-take-up", working.public_id))
    assert told.status_code == 409
    assert opened(writer) == other


def test_one_of_another_production_is_not_found(client: Client, writer: Member, second: Draft) -> None:
    assert client.get(address(writer, "working-take-up", "elsewhere")).status_code == 404
