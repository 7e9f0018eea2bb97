"""What is shown when something goes wrong."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from django.http import HttpRequest
from django.test import Client
from django.urls import reverse

from review import errors

if TYPE_CHECKING:
    from collections.abc import Callable

    from review.people.models import Member

    SignIn = Callable[[Member], Client]


@pytest.mark.django_db
def test_an_address_that_is_not_there(client: Client) -> None:
    response = client.get("/nowhere/")
    assert response.status_code == 404
    assert "<h1>Nothing here</h1>" in response.text
    assert "common.css" in response.text


def test_a_stranger_s_production_looks_like_one_that_is_not_there(signed_in: SignIn, writer: Member) -> None:
    from tests.factories import make_member, make_production

    stranger = signed_in(make_member(make_production("Elsewhere")))
    there = stranger.get(reverse("home", args=[writer.production.public_id]))
    not_there = stranger.get(reverse("home", args=["not-a-thing"]))
    assert there.status_code == not_there.status_code == 404
    assert "Slack Water" not in there.text


def test_what_someone_may_not_do_says_who_may(signed_in: SignIn, crew: Member) -> None:
    response = signed_in(crew).get(reverse("draft-upload", args=[crew.production.public_id]))
    assert response.status_code == 403
    assert "Only a writer puts up drafts" in response.text
    assert "<h1>Not yours to open</h1>" in response.text
    home = reverse("home", args=[crew.production.public_id])
    assert f'<a class="button" href="{home}">Go to the production’s home</a>' in response.text


def test_a_form_without_proof_that_it_is_ours(writer: Member) -> None:
    client = Client(enforce_csrf_checks=True)
    client.force_login(writer.person, backend="allauth.account.auth_backends.AuthenticationBackend")
    response = client.post(reverse("invite", args=[writer.production.public_id]))
    assert response.status_code == 403
    assert "<h1>This page is out of date</h1>" in response.text


@pytest.mark.parametrize("htmx", [False, True])
def test_a_null_character_in_any_field_is_sent_back(signed_in: SignIn, writer: Member, htmx: bool) -> None:
    headers = {"HX-Request": "true"} if htmx else {}
    form = {"name": "Ida\0", "role": "crew", "department": "art", "form_id": str(uuid.uuid4())}
    invite = reverse("invite", args=[writer.production.public_id])
    for response in (
        signed_in(writer).post(invite, form, headers=headers),
        signed_in(writer).get(reverse("notes", args=[writer.production.public_id]) + "?state=%00", headers=headers),
    ):
        assert response.status_code == 400
        assert "There is a null character in what you sent" in response.text
        assert ("<h1>" in response.text) is not htmx
    assert not writer.production.invitations.exists()


def test_a_request_that_cannot_be_read() -> None:
    client = Client(headers={"host": "evil.example.com"}, raise_request_exception=False)
    response = client.get("/healthy/")
    assert response.status_code == 400
    assert "<h1>That could not be read</h1>" in response.text
    assert "evil.example.com" not in response.text


@pytest.mark.django_db
def test_an_error_of_our_own_says_so_and_shows_nothing_of_its_inside(
    writer: Member, monkeypatch: pytest.MonkeyPatch
) -> None:
    def break_down(*args: object) -> None:
        raise RuntimeError("the inside")

    monkeypatch.setattr("review.home.views.home.recent_happenings", break_down)
    client = Client(raise_request_exception=False)
    client.force_login(writer.person, backend="allauth.account.auth_backends.AuthenticationBackend")
    response = client.get(reverse("home", args=[writer.production.public_id]))
    assert response.status_code == 500
    assert "<h1>Something broke on the server</h1>" in response.text
    assert "the inside" not in response.text


def test_the_page_for_our_own_errors_needs_no_database() -> None:
    """The mark for tests that use one is missing here, so that asking it for anything fails."""
    assert errors.server_error(HttpRequest()).status_code == 500
