"""Beginning a production."""

from __future__ import annotations

import uuid
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from typing import TYPE_CHECKING

import pytest
from django.core.exceptions import PermissionDenied
from django.db import connection
from django.urls import reverse

from review.access import Role
from review.log import Act
from review.people.acts import start_production
from review.people.models import Department, Member
from review.productions.models import Production
from tests.factories import make_person

if TYPE_CHECKING:
    from django.test import Client

    from review.people.models import Person

pytestmark = pytest.mark.django_db
ADDRESS = "/productions/new/"


@pytest.fixture
def starter(client: Client) -> Person:
    person = make_person("Ada Wren", starts_productions=True)
    client.force_login(person, backend="allauth.account.auth_backends.AuthenticationBackend")
    return person


def test_it_makes_a_production_with_its_starter_as_the_writer(client: Client, starter: Person) -> None:
    response = client.post(ADDRESS, {"form_id": str(uuid.uuid4()), "name": "  Slack Water "})
    member = Member.objects.get()
    assert (member.production.name, member.person, member.role) == ("Slack Water", starter, Role.WRITER)
    assert member.department == Department.WRITING
    assert response.headers["Location"] == reverse("home", args=[member.production.public_id])
    assert Act.objects.get().verb == Act.Verb.STARTED_PRODUCTION


def test_the_same_form_twice_makes_one(client: Client, starter: Person) -> None:
    form = {"form_id": str(uuid.uuid4()), "name": "Slack Water"}
    led_to = {client.post(ADDRESS, form).headers["Location"] for _ in range(2)}
    assert len(led_to) == 1
    assert (Production.objects.count(), Act.objects.count()) == (1, 1)


def test_another_name_after_going_back_makes_another(client: Client, starter: Person) -> None:
    form_id = str(uuid.uuid4())
    for name in ("Slack Water", "High Water"):
        client.post(ADDRESS, {"form_id": form_id, "name": name})
    assert set(Member.objects.values_list("production__name", flat=True)) == {"Slack Water", "High Water"}


def test_the_form_id_of_somebody_else_s_production_gives_nothing_of_it_away(client: Client, starter: Person) -> None:
    theirs = start_production(make_person(starts_productions=True), "Theirs", uuid.uuid4())
    response = client.post(ADDRESS, {"form_id": str(theirs.form_id), "name": "Theirs"})
    assert theirs.public_id not in response.headers["Location"]
    assert Production.objects.filter(started_by=starter).count() == 1


@pytest.mark.parametrize("name", ["", "   ", "x" * 121])
def test_a_name_that_is_none_is_refused(client: Client, starter: Person, name: str) -> None:
    response = client.post(ADDRESS, {"form_id": str(uuid.uuid4()), "name": name})
    assert response.status_code == 422
    assert 'aria-invalid="true"' in response.text
    assert not Production.objects.exists()


def test_only_whoever_set_the_server_up_begins_one(client: Client) -> None:
    client.force_login(make_person(), backend="allauth.account.auth_backends.AuthenticationBackend")
    response = client.post(ADDRESS, {"form_id": str(uuid.uuid4()), "name": "Slack Water"})
    assert response.status_code == 403
    assert "Only whoever set this server up" in response.text
    with pytest.raises(PermissionDenied):
        start_production(make_person(), "Slack Water", uuid.uuid4())
    assert not Production.objects.exists()


@pytest.mark.django_db(transaction=True)
def test_a_form_sent_twice_in_the_same_moment_makes_one_production(postgres_url: str) -> None:
    person, form_id, at_once = make_person(starts_productions=True), uuid.uuid4(), Barrier(2)

    def start(_: int) -> int:
        try:
            at_once.wait(timeout=10)
            return start_production(person, "Slack Water", form_id).pk
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as threads:
        assert len(set(threads.map(start, range(2)))) == 1
    assert Member.objects.count() == 1
