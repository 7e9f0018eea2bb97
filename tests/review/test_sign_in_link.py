"""Where a sign-in link leads."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from threading import Barrier
from typing import TYPE_CHECKING, Any

import pytest
from django.db import IntegrityError, connection
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from review.people.acts import LinkRefused, use_sign_in_link
from review.people.models import Member, SignInLink, hash_token, new_token

if TYPE_CHECKING:
    from collections.abc import Callable

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


def make_link(member: Member, **fields: Any) -> str:
    token = new_token()
    expires_at = fields.pop("expires_at", timezone.now() + timedelta(hours=1))
    SignInLink.objects.create(person=member.person, token_hash=hash_token(token), expires_at=expires_at, **fields)
    return reverse("sign-in-link", args=[token])


def who_is_in(client: Client) -> str | None:
    return client.session.get("_auth_user_id")


def test_looking_at_it_signs_nobody_in_and_uses_nothing_up(client: Client, crew: Member) -> None:
    response = client.get(make_link(crew))
    assert response.status_code == 200
    assert "Sign in as Bo Finch" in response.text
    assert who_is_in(client) is None
    assert SignInLink.objects.get().state == "open"


def test_its_button_signs_in_once(client: Client, crew: Member) -> None:
    link = make_link(crew)
    assert client.post(link).headers["Location"] == reverse("productions")
    assert who_is_in(client) == str(crew.person.pk)
    for method in ("get", "post"):
        response = getattr(Client(), method)(link)
        assert response.status_code == 410
        assert "This sign-in link has been used" in response.text


def test_a_link_of_which_a_part_is_lost_is_broken(client: Client, crew: Member) -> None:
    response = client.post(make_link(crew)[:-2] + "/")
    assert response.status_code == 404
    assert "This sign-in link is broken" in response.text
    assert who_is_in(client) is None


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"withdrawn_at": timezone.now()}, "was withdrawn"),
        ({"expires_at": timezone.now() - timedelta(seconds=1)}, "has expired"),
    ],
)
def test_one_that_no_longer_counts_says_why(client: Client, crew: Member, fields: dict[str, Any], said: str) -> None:
    response = client.post(make_link(crew, **fields))
    assert response.status_code == 410
    assert said in response.text
    assert who_is_in(client) is None


def test_one_for_this_machine_can_be_used_again_on_it(crew: Member) -> None:
    link = make_link(crew, local_only=True, single_use=False)
    for address in ("127.0.0.1", "::1"):
        client = Client(REMOTE_ADDR=address)
        assert client.post(link).status_code == 302
        assert who_is_in(client) == str(crew.person.pk)


@pytest.mark.parametrize(
    "elsewhere",
    [
        {"REMOTE_ADDR": "192.0.2.7"},  # an address that RFC 5737 keeps for examples
        {"REMOTE_ADDR": "127.0.0.1", "HTTP_X_FORWARDED_FOR": "127.0.0.1"},
        {"REMOTE_ADDR": "127.0.0.1", "HTTP_FORWARDED": "for=127.0.0.1"},  # RFC 7239
        {"REMOTE_ADDR": "127.0.0.1", "HTTP_VIA": "1.1 proxy"},
        {"REMOTE_ADDR": ""},
    ],
)
def test_one_for_this_machine_works_from_nowhere_else(crew: Member, elsewhere: dict[str, str]) -> None:
    link, client = make_link(crew, local_only=True, single_use=False), Client(**elsewhere)  # type: ignore[arg-type]
    for method in (client.get, client.post):
        response = method(link)
        assert response.status_code == 403
        assert "works from one machine only" in response.text
    assert who_is_in(client) is None


def test_behind_another_server_nothing_comes_from_this_machine(client: Client, crew: Member, settings: Any) -> None:
    settings.BEHIND_HTTPS = True
    assert client.post(make_link(crew, local_only=True)).status_code == 403
    assert client.post(make_link(crew)).status_code == 302


def test_a_link_that_can_be_used_again_from_anywhere_cannot_be_kept(crew: Member) -> None:
    with pytest.raises(IntegrityError, match="reusable_links_work_from_this_machine_only"):
        make_link(crew, local_only=False, single_use=False)


def test_it_signs_out_whoever_was_signed_in(signed_in: SignIn, crew: Member, cast: Member) -> None:
    client, link = signed_in(cast), make_link(crew)
    assert "You are signed in as Cleo Marsh now" in client.get(link).text
    session = client.session
    session["left behind"] = "by the cast"
    session.save()
    client.post(link)
    assert who_is_in(client) == str(crew.person.pk)
    assert "left behind" not in client.session


def test_a_closed_account_is_signed_in_by_none(client: Client, crew: Member) -> None:
    crew.person.is_active = False
    crew.person.save()
    assert client.post(make_link(crew)).status_code == 404
    assert who_is_in(client) is None


def test_its_page_is_kept_by_no_cache_and_tells_its_address_to_nobody(client: Client, crew: Member) -> None:
    for address in (make_link(crew), reverse("sign-in-link", args=["broken"])):
        response = client.get(address)
        assert "no-store" in response.headers["Cache-Control"]
        assert response.headers["Referrer-Policy"] == "strict-origin"


@pytest.mark.django_db(transaction=True)
def test_of_two_who_press_at_the_same_moment_one_is_signed_in(postgres_url: str, crew: Member) -> None:
    token, at_once = make_link(crew).split("/")[-2], Barrier(2)

    def use(_: int) -> str:
        at_once.wait(timeout=10)
        try:
            return use_sign_in_link(token, from_this_machine=False).name
        except LinkRefused as refusal:
            return refusal.state
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as threads:
        assert sorted(threads.map(use, range(2))) == ["Bo Finch", "used"]
