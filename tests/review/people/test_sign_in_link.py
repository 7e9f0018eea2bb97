"""Signing in by a link."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from threading import Barrier
from typing import Any

import pytest
from django.db import IntegrityError, connection
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from review.access import Role
from review.people import acts
from review.people.models import Department, Member, SignInLink, hash_token
from tests.factories import make_person, make_production

pytestmark = pytest.mark.django_db
TOKEN = "a-token-of-some-length"


def make_link(member: Member, **fields: Any) -> SignInLink:
    expires_at = timezone.now() + timedelta(hours=1)
    defaults = {"person": member.person, "token_hash": hash_token(TOKEN), "expires_at": expires_at}
    return SignInLink.objects.create(**(defaults | fields))


def address(token: str = TOKEN) -> str:
    return reverse("sign-in-link", args=[token])


def is_signed_in(client: Client, member: Member) -> bool:
    return client.session.get("_auth_user_id") == str(member.person.pk)


def test_opening_it_shows_a_button_and_uses_nothing_up(client: Client, crew: Member) -> None:
    make_link(crew)
    for _ in range(3):
        assert "Sign in as Bo Finch" in client.get(address()).text
    assert SignInLink.objects.get().used_at is None
    assert not is_signed_in(client, crew)


def test_the_button_signs_in_and_leads_to_the_one_production_there_is(client: Client, crew: Member) -> None:
    make_link(crew)
    response = client.post(address())
    assert response.headers["Location"] == reverse("home", args=[crew.production.public_id])
    assert is_signed_in(client, crew)


def test_it_leads_to_the_list_of_several_and_from_a_writer_to_theirs(writer: Member, crew: Member) -> None:
    other = make_production("Other Film")
    Member.objects.create(person=crew.person, production=other, role=Role.CREW, department=Department.CAMERA)
    make_link(crew, local_only=True, single_use=False)
    here = Client(REMOTE_ADDR="127.0.0.1", HTTP_HOST="localhost")
    assert here.post(address()).headers["Location"] == reverse("productions")
    make_link(crew, made_by=writer, token_hash=hash_token("another"))
    theirs = Client().post(address("another")).headers["Location"]
    assert theirs == reverse("home", args=[writer.production.public_id])


def test_it_works_once(crew: Member) -> None:
    make_link(crew)
    Client().post(address())
    second = Client()
    response = second.post(address())
    assert response.status_code == 410
    assert "This sign-in link has been used" in response.text
    assert not is_signed_in(second, crew)


@pytest.mark.parametrize("method", ["get", "post"])
@pytest.mark.parametrize(
    ("fields", "status", "sentence"),
    [
        ({"used_at": 0}, 410, "This sign-in link has been used"),
        ({"withdrawn_at": 0}, 410, "This sign-in link was withdrawn"),
        ({"expires_at": 0}, 410, "This sign-in link has expired"),
        ({"token_hash": "0" * 64}, 404, "This sign-in link is broken"),
    ],
)
def test_a_link_that_does_not_open_says_why(
    client: Client, crew: Member, method: str, fields: dict[str, Any], status: int, sentence: str
) -> None:
    make_link(crew, **{name: value or timezone.now() for name, value in fields.items()})
    response = getattr(client, method)(address())
    assert response.status_code == status
    assert sentence in response.text
    assert not is_signed_in(client, crew)


def test_a_link_of_this_machine_signs_in_here_as_often_as_wanted(crew: Member) -> None:
    make_link(crew, local_only=True, single_use=False)
    for here, name in (("127.0.0.1", "127.0.0.1:8000"), ("::1", "[::1]:8000"), ("127.0.0.1", "localhost:8000")):
        client = Client(REMOTE_ADDR=here, HTTP_HOST=name, HTTP_ORIGIN=f"http://{name}")
        assert client.post(address()).status_code == 302
        assert is_signed_in(client, crew)


@pytest.mark.parametrize("method", ["get", "post"])
@pytest.mark.parametrize(
    "request_is",
    [
        {"REMOTE_ADDR": "192.168.1.7"},
        {"REMOTE_ADDR": "10.0.0.2"},
        {"REMOTE_ADDR": ""},
        {"REMOTE_ADDR": "127.0.0.1", "HTTP_X_FORWARDED_FOR": "203.0.113.9"},
        {"REMOTE_ADDR": "127.0.0.1", "HTTP_X_FORWARDED_FOR": "127.0.0.1"},
        {"REMOTE_ADDR": "127.0.0.1", "HTTP_X_FORWARDED_PROTO": "https"},
        {"REMOTE_ADDR": "127.0.0.1", "HTTP_FORWARDED": "for=203.0.113.9"},
        {"REMOTE_ADDR": "127.0.0.1", "HTTP_X_REAL_IP": "203.0.113.9"},
        {"REMOTE_ADDR": "127.0.0.1", "HTTP_VIA": "1.1 proxy"},
        {"REMOTE_ADDR": "127.0.0.1", "HTTP_X_CLIENT_IP": "203.0.113.9"},
        {"REMOTE_ADDR": "127.0.0.1", "SERVER_PROTOCOL": "HTTP/1.0"},
        {"REMOTE_ADDR": "127.0.0.1", "HTTP_HOST": "films.example.org"},
        {"REMOTE_ADDR": "127.0.0.1", "HTTP_HOST": "localhost:8000", "HTTP_ORIGIN": "https://films.example.org"},
        {"REMOTE_ADDR": "127.0.0.1", "HTTP_HOST": "localhost:8000", "HTTP_REFERER": "https://films.example.org/in/"},
    ],
)
def test_a_link_of_this_machine_is_refused_elsewhere_and_through_another_server(
    crew: Member, settings: Any, request_is: dict[str, str], method: str
) -> None:
    settings.ALLOWED_HOSTS = ["*"]
    make_link(crew, local_only=True, single_use=False)
    client = Client(**request_is)  # type: ignore[arg-type]
    response = getattr(client, method)(address())
    assert response.status_code == 403
    assert "works from one machine only" in response.text
    assert "Bo Finch" not in response.text
    assert not is_signed_in(client, crew)


def test_a_server_that_is_said_to_stand_behind_another_takes_no_link_of_this_machine(
    client: Client, crew: Member, settings: Any
) -> None:
    settings.BEHIND_HTTPS = True
    make_link(crew, local_only=True)
    assert client.post(address()).status_code == 403


def test_a_link_that_works_more_than_once_works_from_this_machine_alone(crew: Member) -> None:
    with pytest.raises(IntegrityError):
        make_link(crew, single_use=False, local_only=False)


def test_it_signs_whoever_was_there_before_out(client: Client, crew: Member, writer: Member) -> None:
    client.force_login(writer.person, backend="allauth.account.auth_backends.AuthenticationBackend")
    session = client.session
    session["of"] = "the writer"
    session.save()
    make_link(crew)
    assert "will be signed out" in client.get(address()).text
    client.post(address())
    assert is_signed_in(client, crew)
    assert "of" not in client.session
    assert client.session.session_key != session.session_key


def test_it_needs_the_form_of_our_own_page(crew: Member) -> None:
    make_link(crew)
    client = Client(enforce_csrf_checks=True)
    response = client.post(address())
    assert response.status_code == 403
    assert "This page is out of date" in response.text
    assert SignInLink.objects.get().used_at is None


def test_the_token_is_kept_as_a_hash_alone(writer: Member, crew: Member) -> None:
    token = acts.make_sign_in_link(writer, crew)
    assert token not in str(vars(SignInLink.objects.get()))


@pytest.mark.django_db(transaction=True)
def test_of_two_who_use_it_at_once_one_is_signed_in(postgres_url: str) -> None:
    at_once = Barrier(2)
    SignInLink.objects.create(
        person=make_person(), token_hash=hash_token(TOKEN), expires_at=timezone.now() + timedelta(hours=1)
    )

    def use(_: int) -> str:
        try:
            at_once.wait(timeout=10)
            acts.use_sign_in_link(TOKEN, from_this_machine=True)
        except acts.LinkRefused as refusal:
            return refusal.state
        else:
            return "in"
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as threads:
        assert sorted(threads.map(use, range(2))) == ["in", "used"]
