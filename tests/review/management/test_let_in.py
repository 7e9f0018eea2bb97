"""Letting somebody back in from the server's own terminal."""

from __future__ import annotations

import re
from io import StringIO
from typing import TYPE_CHECKING

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.test import Client
from django.urls import reverse

from review.access import Role
from review.log import Act
from review.people import acts
from review.people.models import Department, Person
from tests.factories import make_member, make_person, make_production

if TYPE_CHECKING:
    from pytest_django import Settings

    from review.people.models import Member

pytestmark = pytest.mark.django_db


def let_in(*arguments: str) -> str:
    said = StringIO()
    call_command("let_in", *arguments, stdout=said)
    return said.getvalue()


def link_in(said: str) -> str:
    found = re.search(r"(/in/\S+/)", said)
    assert found, said
    return found.group(1)


def test_a_founder_whom_nobody_can_let_in_is_let_in_again(writer: Member) -> None:
    founder = make_member(writer.production, Role.WRITER, Department.WRITING, person=writer.production.started_by)
    acts.remove_member(founder, founder)
    said = let_in(founder.person.email.upper(), "--production", "slack water")
    assert "is in Slack Water again, as writer." in said
    client = Client()
    client.post(link_in(said))
    assert client.get(reverse("people", args=[writer.production.public_id])).status_code == 200
    assert Act.objects.filter(verb=Act.Verb.LET_BACK_IN, person=founder.person).count() == 1


def test_the_link_is_of_the_person_s_own_and_signs_in_once(crew: Member) -> None:
    Person.objects.filter(pk=crew.person_id).update(is_active=False)  # shut out by whoever keeps the server
    link = link_in(let_in(crew.person.email))
    client = Client()
    client.post(link)
    assert client.get(reverse("account_set_password")).status_code == 200
    assert Client().post(link).status_code == 410


def test_the_whole_link_is_printed_where_the_server_s_address_is_told(crew: Member, settings: Settings) -> None:
    settings.SITE_ADDRESS, settings.SITE_ADDRESS_IS_TOLD = "https://script.example.org/", True
    assert "\nhttps://script.example.org/in/" in let_in(crew.person.email)
    settings.SITE_ADDRESS_IS_TOLD = False
    assert "Put the server's address before it" in let_in(crew.person.email)


def test_somebody_comes_back_as_what_is_said(writer: Member, crew: Member) -> None:
    acts.remove_member(writer, crew)
    let_in(crew.person.email, "--production", "Slack Water", "--role", "cast")
    crew.refresh_from_db()
    assert (crew.role, crew.removed_at) == ("cast", None)


@pytest.mark.parametrize(
    ("email", "title", "sentence"),
    [
        ("nobody@example.org", "", "Nobody here has the address"),
        ("", "Elsewhere", "in no production of the title Elsewhere; in all: Slack Water."),
    ],
)
def test_what_cannot_be_is_said_in_a_sentence(writer: Member, email: str, title: str, sentence: str) -> None:
    make_production("Elsewhere", make_person())
    with pytest.raises(CommandError, match=sentence):
        let_in(email or writer.person.email, "--production", title)
