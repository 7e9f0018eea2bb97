"""Whose tries to sign in are counted, how often, and whom that keeps out."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from typing import TYPE_CHECKING, Any

import pytest
from django.core.cache import cache
from django.db import connection
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from review.people.models import Try
from review.people.tries import SIGNING_IN, TriedTooOften, attempt

if TYPE_CHECKING:
    from collections.abc import Callable

    from review.people.models import Member, Person

pytestmark = pytest.mark.django_db

# Addresses that RFC 5737 keeps for examples.
ATTACKER, COLLEAGUE = "192.0.2.7", "198.51.100.4"
FLOOD = SIGNING_IN.by_one + 2


def tries(times: int, forwarded_for: str) -> list[int]:
    """The answers to so many tries that the server in front passes on."""
    client = Client(headers={"X-Forwarded-For": forwarded_for})
    form = {"password": "x"}
    return [
        client.post(reverse("account_login"), form | {"login": f"{n}@example.org"}).status_code for n in range(times)
    ]


def test_a_flood_from_one_address_keeps_nobody_else_out(settings: Any) -> None:
    settings.BEHIND_HTTPS = True
    assert tries(FLOOD, ATTACKER)[-1] == 429
    assert tries(1, COLLEAGUE) == [200]


def test_an_address_that_the_sender_made_up_is_not_believed(settings: Any) -> None:
    settings.BEHIND_HTTPS = True
    answers = [tries(1, f"203.0.113.{n}, {ATTACKER}")[0] for n in range(FLOOD)]
    assert answers[-1] == 429


def test_without_a_server_in_front_nobody_is_believed() -> None:
    answers = [tries(1, f"203.0.113.{n}")[0] for n in range(FLOOD)]
    assert answers[-1] == 429


PASSWORD = "mended nets by lamp"


@pytest.fixture
def owner(crew: Member) -> Person:
    crew.person.set_password(PASSWORD)
    crew.person.save()
    return crew.person


def sign_in(client: Client, person: Person, password: str = PASSWORD) -> bool:
    """Whether the client is signed in by this password."""
    client.post(reverse("account_login"), {"login": person.email, "password": password})
    return "_auth_user_id" in client.session


def guess(person: Person, times: int) -> None:
    """Somebody else, with no device that is known, guesses at the password."""
    for n in range(times):
        assert not sign_in(Client(), person, f"guess number {n}")


def sign_out(client: Client) -> Client:
    client.post(reverse("account_logout"))
    return client


def test_the_owner_with_the_right_password_gets_in_from_a_known_device_while_others_guess(owner: Person) -> None:
    home, elsewhere = Client(), Client()
    assert sign_in(home, owner)
    sign_out(home)
    guess(owner, FLOOD)
    assert not sign_in(elsewhere, owner)  # a device that nobody knows waits with the rest
    assert sign_in(home, owner)


def test_a_known_device_is_let_guess_no_longer_than_others(owner: Person) -> None:
    home = Client()
    sign_in(home, owner)
    sign_out(home)
    for n in range(FLOOD):
        sign_in(home, owner, f"guess number {n}")
    assert not sign_in(home, owner)


def test_a_device_is_known_for_whoever_signed_in_from_it_alone(owner: Person, writer: Member) -> None:
    writer.person.set_password(PASSWORD)
    writer.person.save()
    theirs = Client()
    sign_in(theirs, writer.person)
    sign_out(theirs)
    guess(owner, 6)
    assert not sign_in(theirs, owner)


def test_a_device_is_forgotten_with_the_password_it_was_known_by(owner: Person) -> None:
    home = Client()
    sign_in(home, owner)
    sign_out(home)
    owner.set_password("two lamps and a net")
    owner.save()
    guess(owner, 6)
    assert not sign_in(home, owner, "two lamps and a net")


@pytest.mark.parametrize("forged", ["", "x", "a.b.c", "\u00e9"])
def test_a_device_that_says_so_itself_is_not_known(owner: Person, forged: str) -> None:
    client = Client()
    client.cookies[f"device-{owner.public_id}"] = forged
    guess(owner, 6)
    assert not sign_in(client, owner)


def test_other_traffic_pushes_no_count_out(
    owner: Person, signed_in: Callable[[Member], Client], writer: Member
) -> None:
    guess(owner, 6)
    client = signed_in(writer)
    for n in range(400):
        cache.set(f"length:{n}", n)
    for _ in range(5):
        client.get(reverse("home", args=[writer.production.public_id]))
    cache.clear()
    assert not sign_in(Client(), owner)


def test_the_count_is_over_after_a_while(owner: Person) -> None:
    guess(owner, FLOOD)
    Try.objects.update(at=timezone.now() - SIGNING_IN.within)
    assert sign_in(Client(), owner)


def test_what_was_tried_is_kept_for_a_day_and_says_nothing_of_what_was_typed(owner: Person) -> None:
    guess(owner, 1)
    kept = Try.objects.get()
    assert owner.email not in f"{kept.at_door} {kept.by}"
    Try.objects.update(at=timezone.now() - 2 * Try.KEPT)
    guess(owner, 1)
    assert Try.objects.count() == 1


def test_guesses_at_the_password_in_an_open_session_are_counted_too(owner: Person) -> None:
    client = Client()
    sign_in(client, owner)
    new = "two lamps and a net"
    for n in range(12):
        form = {"oldpassword": f"guess number {n}", "password1": new, "password2": new}
        client.post(reverse("account_change_password"), form)
    client.post(reverse("account_change_password"), {"oldpassword": PASSWORD, "password1": new, "password2": new})
    owner.refresh_from_db()
    assert owner.check_password(PASSWORD)


@pytest.mark.django_db(transaction=True)
def test_so_many_guesses_at_the_same_moment_are_counted_as_one_after_another(owner: Person) -> None:
    start = Barrier(12)

    def one(n: int) -> bool:
        start.wait(timeout=20)
        try:
            attempt(SIGNING_IN, door=owner.email, by=f"192.0.2.{n}")
        except TriedTooOften:
            return False
        finally:
            connection.close()
        return True

    with ThreadPoolExecutor(12) as threads:
        assert sum(threads.map(one, range(12))) <= SIGNING_IN.at_door
