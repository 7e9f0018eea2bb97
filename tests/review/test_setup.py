"""The first page of a new server."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from typing import TYPE_CHECKING

import pytest
from django.db import connection
from django.urls import reverse

from review.log import Act
from review.people.acts import CODE_LETTERS, Refused, new_setup_code, set_up_first_writer
from review.people.models import Member, Person, Role, SetupCode
from review.productions.models import Production
from tests.factories import make_person

if TYPE_CHECKING:
    from django.http import HttpResponse
    from django.test import Client

pytestmark = pytest.mark.django_db

PASSWORD = "a long walk at slack water"


def filled_in(code: str, **instead: str) -> dict[str, str]:
    told = {"code": code, "name": "Ada Wren", "email": "ada@example.org", "password": PASSWORD, "title": "Slack Water"}
    return told | instead


def send(client: Client, code: str, **instead: str) -> HttpResponse:
    return client.post(reverse("setup"), filled_in(code, **instead))


def test_a_server_where_nobody_is_yet_leads_here(client: Client) -> None:
    assert client.get(reverse("productions")).headers["Location"] == reverse("setup")
    assert "one-time code" in client.get(reverse("setup")).text


def test_the_first_writer_gets_in_and_puts_up_the_first_draft_next(client: Client) -> None:
    response = send(client, new_setup_code())
    member = Member.objects.get()
    assert (member.name, member.role, member.production.name) == ("Ada Wren", Role.WRITER, "Slack Water")
    assert member.person.starts_productions
    assert response.headers["Location"] == reverse("draft-upload", args=[member.production.public_id])
    assert client.get(response.headers["Location"]).status_code == 200
    assert Act.objects.get().verb == Act.Verb.STARTED_PRODUCTION


def test_the_password_that_was_chosen_signs_in(client: Client) -> None:
    send(client, new_setup_code())
    client.logout()
    response = client.post(reverse("account_login"), {"login": "ada@example.org", "password": PASSWORD})
    assert response.headers["Location"] == reverse("productions")


def test_it_is_gone_once_somebody_is_here(client: Client) -> None:
    code = new_setup_code()
    make_person("First Comer")
    assert client.get(reverse("setup")).headers["Location"] == reverse("account_login")
    assert send(client, code).headers["Location"] == reverse("account_login")
    assert not Production.objects.exists()
    with pytest.raises(Refused, match="set up already"):
        set_up_first_writer(code, "Ada", "ada@example.org", PASSWORD, "Slack Water")


@pytest.mark.parametrize("typed", [str.lower, lambda code: code.replace("-", ""), lambda code: f" {code} ".swapcase()])
def test_the_code_is_easy_to_type(client: Client, typed: object) -> None:
    assert callable(typed)
    assert send(client, typed(new_setup_code())).status_code == 302
    assert Person.objects.exists()


def test_the_code_has_no_letter_that_is_taken_for_another_and_is_kept_as_a_hash_alone() -> None:
    code = new_setup_code()
    assert len(code.replace("-", "")) == 12
    assert set(code) <= set(CODE_LETTERS) | {"-"}
    assert not set("01IO") & set(CODE_LETTERS)
    kept = SetupCode.objects.get()
    assert code.replace("-", "") not in f"{vars(kept)}"


def test_a_new_code_makes_the_one_before_it_void(client: Client) -> None:
    old, new = new_setup_code(), new_setup_code()
    assert send(client, old).status_code == 422
    assert send(client, new).status_code == 302


def test_a_wrong_code_keeps_what_was_typed_and_says_where_the_right_one_stands(client: Client) -> None:
    new_setup_code()
    response = send(client, "AAAA-AAAA-AAAA")
    assert response.status_code == 422
    assert "stands in the terminal" in response.text
    assert 'value="ada@example.org"' in response.text
    assert PASSWORD not in response.text
    assert not Person.objects.exists()


def test_too_many_wrong_tries_make_the_code_void(client: Client) -> None:
    code = new_setup_code()
    for _ in range(SetupCode.MOST_TRIES):
        send(client, "AAAA-AAAA-AAAA")
    assert SetupCode.objects.get().wrong_tries == SetupCode.MOST_TRIES
    response = send(client, code)
    assert response.status_code == 422
    assert "Stop the server and start it again" in response.text
    assert not Person.objects.exists()


def test_a_mistake_elsewhere_on_the_form_is_no_wrong_try(client: Client) -> None:
    code = new_setup_code()
    assert send(client, code, email="ada at home").status_code == 422
    assert send(client, "AAAA-AAAA-AAAA", password="short").status_code == 422
    assert SetupCode.objects.get().wrong_tries == 0
    assert not Person.objects.exists()


@pytest.mark.parametrize("password", ["short", "1234567890123", "password123"])
def test_a_password_that_is_easily_guessed_is_refused(client: Client, password: str) -> None:
    response = send(client, new_setup_code(), password=password)
    assert response.status_code == 422
    assert not Person.objects.exists()


def test_its_page_is_kept_by_no_cache_and_tells_its_address_to_nobody(client: Client) -> None:
    response = client.get(reverse("setup"))
    assert "no-store" in response.headers["Cache-Control"]
    assert response.headers["Referrer-Policy"] == "strict-origin"


@pytest.mark.django_db(transaction=True)
def test_of_two_with_the_code_at_the_same_moment_one_is_the_first_writer(postgres_url: str) -> None:
    code, at_once = new_setup_code(), Barrier(2)

    def set_up(name: str) -> bool:
        at_once.wait(timeout=10)
        try:
            set_up_first_writer(code, name, f"{name}@example.org", PASSWORD, f"The film of {name}")
        except Refused:
            return False
        finally:
            connection.close()
        return True

    with ThreadPoolExecutor(2) as threads:
        assert sorted(threads.map(set_up, ["ada", "bo"])) == [False, True]
    assert Person.objects.count() == Production.objects.count() == 1
