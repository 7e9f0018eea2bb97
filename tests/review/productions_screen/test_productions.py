"""The list of a person's productions."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from review.access import Role
from tests.factories import make_draft, make_member, make_person, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


def test_it_lists_the_productions_someone_is_in_and_no_others(signed_in: SignIn, crew: Member, draft: Draft) -> None:
    make_member(make_production("Another Film"), Role.PRODUCER, person=crew.person)
    make_member(make_production("Not Theirs"))
    gone = make_member(make_production("Once Theirs"), person=crew.person)
    gone.removed_at = timezone.now()
    gone.save()
    page = signed_in(crew).get("/").text
    assert page.index("Another Film") < page.index("Slack Water")
    assert "Draft 1" in page
    assert "No draft yet" in page
    assert "You are crew, in camera" in page
    assert "Theirs" not in page


def test_it_shows_the_latest_draft(signed_in: SignIn, writer: Member, draft: Draft) -> None:
    make_draft(writer, "INT. ELSEWHERE - DAY\n\nRain.\n", 2, "Second thoughts")
    assert "Draft 2, Second thoughts" in signed_in(writer).get("/").text


def test_someone_in_none_is_told_how_they_come_into_one(client: Client) -> None:
    client.force_login(make_person(), backend="allauth.account.auth_backends.AuthenticationBackend")
    page = client.get("/").text
    assert "A writer invites you by a link" in page
    assert reverse("production-new") not in page


def test_whoever_set_the_server_up_is_offered_to_begin_one(client: Client) -> None:
    person = make_person(starts_productions=True)
    client.force_login(person, backend="allauth.account.auth_backends.AuthenticationBackend")
    assert reverse("production-new") in client.get("/").text
    make_member(make_production(), Role.WRITER, person=person)
    assert "Begin another" in client.get("/").text


def test_signed_out_it_leads_to_signing_in_or_on_an_empty_server_to_the_setup(client: Client) -> None:
    assert client.get("/").headers["Location"] == reverse("setup")
    make_person()
    assert client.get("/").headers["Location"] == reverse("account_login")


def test_it_asks_the_database_no_more_often_for_many_productions(signed_in: SignIn, crew: Member) -> None:
    client = signed_in(crew)

    def queries() -> int:
        with CaptureQueriesContext(connection) as captured:
            client.get("/")
        return len(captured)

    few = queries()
    for _ in range(10):
        make_draft(make_member(make_production(), person=crew.person))
    assert queries() == few
