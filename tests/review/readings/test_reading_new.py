"""Opening a reading."""

from __future__ import annotations

import uuid
from datetime import timedelta
from typing import TYPE_CHECKING, Any

import pytest
from django.core.exceptions import PermissionDenied
from django.urls import reverse
from django.utils import timezone

from review.access import Role
from review.drafts.acts import withdraw_draft
from review.log import Act
from review.people.acts import Refused, remove_member
from review.people.models import Department
from review.readers.models import Reading
from review.readings.acts import Asked, open_reading
from review.readings.views.reading_new import OPENED_ALREADY
from tests.factories import make_member, make_note, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db

NEXT_WEEK = timezone.localdate() + timedelta(days=7)
ASKED = Asked(NEXT_WEEK, "Does it hold?")


def form(**but: Any) -> dict[str, Any]:
    return {"form_id": str(uuid.uuid4()), "until": NEXT_WEEK.isoformat(), "look_for": "", "blind": "yes"} | but


def post(client: Client, writer: Member, **but: Any) -> Any:
    return client.post(reverse("reading-new", args=[writer.production.public_id]), form(**but))


def names(reading: Reading) -> list[str]:
    return [reader.name for reader in reading.readers.in_it().select_related("member__person")]


def test_it_opens_for_members_one_by_one_and_for_departments_whole(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    second = make_member(writer.production, Role.CREW, Department.CAMERA, "Ida Moss")
    make_member(writer.production, Role.CREW, Department.SOUND, "Not Asked")
    post(signed_in(writer), writer, members=[cast.public_id], departments=["camera"], look_for=" Does it hold? ")
    reading = Reading.objects.get()
    assert names(reading) == [crew.name, cast.name, second.name]
    assert (reading.draft, reading.is_blind, reading.look_for) == (draft, True, "Does it hold?")
    assert Act.objects.filter(verb=Act.Verb.OPENED_READING, about=reading.public_id).exists()


def test_keeping_readers_from_each_other_is_preset_and_everybody_is_chosen(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    page = signed_in(writer).get(reverse("reading-new", args=[writer.production.public_id])).text
    assert '<input type="radio" name="blind" value="yes"' in page.replace("  ", " ")
    assert f'value="{crew.public_id}" checked' in page
    assert "1 of 1 chosen to begin with" in page
    assert f'value="{NEXT_WEEK.isoformat()}"' in page
    assert writer.public_id not in page.split("<main")[1]


@pytest.mark.parametrize(
    ("but", "sentence"),
    [
        ({"members": []}, "Choose at least one person or department."),
        ({"until": "2020-01-01"}, "This day is past."),
        ({"until": ""}, "Say until when"),
        ({"until": "soon"}, "Enter a valid date"),
        ({"members": ["nobody"]}, "Choose at least one person"),
    ],
)
def test_it_says_what_is_wrong_and_opens_nothing(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft, but: dict[str, Any], sentence: str
) -> None:
    response = post(signed_in(writer), writer, **({"members": [crew.public_id]} | but))
    assert response.status_code == 422
    assert sentence in response.text or "not one of the available choices" in response.text
    assert not Reading.objects.exists()


def test_a_form_shown_again_says_how_many_were_chosen_in_it(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    for name, department in (("Ida Moss", Department.CAMERA), ("Not Asked", Department.SOUND)):
        make_member(writer.production, Role.CREW, department, name)
    chosen = {"members": [crew.public_id], "departments": ["camera"]}
    assert "2 of 3 chosen" in post(signed_in(writer), writer, until="", **chosen).text


def test_the_same_form_sent_again_finds_the_reading_it_opened(writer: Member, crew: Member, draft: Draft) -> None:
    form_id = uuid.uuid4()
    first = open_reading(writer, draft, [crew], ASKED, form_id)
    assert open_reading(writer, draft, [crew], ASKED, form_id) == first
    assert Reading.objects.count() == 1


def test_a_form_that_was_sent_and_comes_with_other_choices_is_not_said_to_have_opened_a_reading(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    """Or a writer believed it blind. The page that it leads to says what the reading is."""
    client, told = signed_in(writer), {"form_id": str(uuid.uuid4()), "members": [crew.public_id]}
    assert "The reading is open." in client.get(post(client, writer, blind="no", **told).url).text
    again = client.get(post(client, writer, blind="yes", **told).url).text
    assert (OPENED_ALREADY in again, "The reading is open." in again) == (True, False)
    assert not Reading.objects.get().is_blind


def test_writers_and_those_who_were_removed_do_not_read(
    writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    remove_member(writer, cast)
    assert names(open_reading(writer, draft, [writer, crew, cast], ASKED, uuid.uuid4())) == [crew.name]
    with pytest.raises(Refused, match="Choose who reads it"):
        open_reading(writer, draft, [writer, cast], ASKED, uuid.uuid4())


def test_nobody_else_opens_one_nor_of_another_production(writer: Member, crew: Member, draft: Draft) -> None:
    with pytest.raises(PermissionDenied):
        open_reading(crew, draft, [crew], ASKED, uuid.uuid4())
    elsewhere = make_member(make_production("Elsewhere"), Role.WRITER, Department.WRITING)
    with pytest.raises(PermissionDenied):
        open_reading(elsewhere, draft, [], ASKED, uuid.uuid4())
    with pytest.raises(PermissionDenied):
        open_reading(writer, draft, [make_member(elsewhere.production)], ASKED, uuid.uuid4())


def test_a_withdrawn_draft_is_not_read(writer: Member, crew: Member, draft: Draft) -> None:
    withdraw_draft(writer, draft, "Mine.")
    with pytest.raises(Refused, match="was withdrawn"):
        open_reading(writer, draft, [crew], ASKED, uuid.uuid4())


def test_who_could_read_others_notes_before_is_known(writer: Member, crew: Member, cast: Member, draft: Draft) -> None:
    """The reading can make nobody forget what they read: it says so."""
    make_note(cast, draft)
    reading = open_reading(writer, draft, [crew, cast], ASKED, uuid.uuid4())
    told = {reader.member_id: reader.others_open_at is not None for reader in reading.readers.all()}
    assert told == {crew.pk: True, cast.pk: False}


def test_without_a_draft_or_anybody_to_ask_it_leads_on(signed_in: SignIn, writer: Member) -> None:
    address = reverse("reading-new", args=[writer.production.public_id])
    assert "There is no draft yet" in signed_in(writer).get(address).text


def test_without_anybody_to_ask_it_leads_to_inviting(signed_in: SignIn, writer: Member, draft: Draft) -> None:
    page = signed_in(writer).get(reverse("reading-new", args=[writer.production.public_id])).text
    assert "Nobody to ask yet" in page


def test_home_leads_a_writer_from_a_draft_and_people_to_a_reading(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    home = reverse("home", args=[writer.production.public_id])
    assert reverse("reading-new", args=[writer.production.public_id]) in signed_in(writer).get(home).text
    reading = open_reading(writer, draft, [crew], ASKED, uuid.uuid4())
    page = " ".join(signed_in(writer).get(home).text.split())
    assert "0 of 1 has finished" in page
    assert reverse("reading-readers", args=[writer.production.public_id, reading.public_id]) in page
