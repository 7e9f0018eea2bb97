"""Where an invitation leads."""

from __future__ import annotations

import uuid
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from threading import Barrier
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.db import connection
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from review.log import Act
from review.people.acts import LinkRefused, accept_invitation, invite, remove_member
from review.people.models import Department, Invitation, Member, Person, Role, hash_token
from tests.factories import make_draft, make_member, make_note, make_person, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.http import HttpResponse

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db

PASSWORD = "a quiet word with the pilot"
GONE = {
    "used": ({"used_at": timezone.now()}, "has been used"),
    "withdrawn": ({"withdrawn_at": timezone.now()}, "was withdrawn"),
    "expired": ({"expires_at": timezone.now() - timedelta(seconds=1)}, "has expired"),
}


@pytest.fixture
def token(writer: Member) -> str:
    _, token = invite(writer, "Noor Halloran", Role.CREW, Department.EDITING, uuid.uuid4())
    assert token
    return token


def filled_in(**instead: str) -> dict[str, str]:
    return {"name": "Noor Halloran", "email": "noor@example.org", "password": ""} | instead


def send(client: Client, token: str, **instead: str) -> HttpResponse:
    return client.post(reverse("join", args=[token]), filled_in(**instead))


def test_it_says_who_invites_to_what_and_as_what(client: Client, token: str) -> None:
    response = client.get(reverse("join", args=[token]))
    assert response.status_code == 200
    page = BeautifulSoup(response.text, "html.parser")
    for said in ("Ada Wren invites you", "Slack Water", "crew, in editing"):
        assert said in page.text
    assert page.select_one("input[name=name]")["value"] == "Noor Halloran"  # type: ignore[index]


def test_looking_at_it_uses_nothing_up(client: Client, token: str) -> None:
    for _ in range(2):
        assert client.get(reverse("join", args=[token])).status_code == 200
    assert Invitation.objects.get().state == "open"
    assert Member.objects.count() == 1


def test_the_invited_person_says_who_they_are_and_is_in(client: Client, token: str, writer: Member) -> None:
    response = send(client, token, name="Noor H.")
    member = Member.objects.exclude(pk=writer.pk).get()
    assert (member.name, member.role, member.department) == ("Noor H.", Role.CREW, Department.EDITING)
    assert response.headers["Location"] == reverse("home", args=[writer.production.public_id])
    assert client.get(response.headers["Location"]).status_code == 200
    invitation = Invitation.objects.get()
    assert (invitation.state, invitation.used_by) == ("used", member)
    assert Act.objects.get(verb=Act.Verb.JOINED).person == member.person


def test_without_a_password_the_device_stays_signed_in_and_nothing_else_signs_in(client: Client, token: str) -> None:
    send(client, token)
    assert not Person.objects.get(email="noor@example.org").has_usable_password()
    assert client.session.get_expiry_age() > timedelta(days=30).total_seconds()


def test_with_a_password_they_can_sign_in_elsewhere(client: Client, token: str) -> None:
    send(client, token, password=PASSWORD)
    response = Client().post(reverse("account_login"), {"login": "Noor@example.org", "password": PASSWORD})
    assert response.headers["Location"] == reverse("productions")


@pytest.mark.parametrize("instead", [{"name": " "}, {"email": "noor at home"}, {"email": ""}, {"password": "short"}])
def test_a_mistake_keeps_what_was_typed_and_the_invitation(client: Client, token: str, instead: dict[str, str]) -> None:
    response = send(client, token, **instead)
    assert response.status_code == 422
    assert 'aria-invalid="true"' in response.text
    assert ("Noor Halloran" in response.text) or "name" in instead
    assert Invitation.objects.get().state == "open"
    assert not Person.objects.filter(email__startswith="noor").exists()


def test_a_link_of_which_a_part_is_lost_is_broken(client: Client, token: str) -> None:
    for method in (client.get, client.post):
        response = method(reverse("join", args=[token[:-1]]))
        assert response.status_code == 404
        assert "This invitation is broken" in response.text


@pytest.mark.parametrize("state", GONE)
def test_a_link_that_lets_nobody_in_says_why_and_what_to_do(client: Client, token: str, state: str) -> None:
    told, said = GONE[state]
    Invitation.objects.update(**told)
    for method in (client.get, client.post):
        response = method(reverse("join", args=[token]), filled_in())
        assert response.status_code == 410
        assert f"This invitation {said}" in response.text
        assert "the writer" in response.text
        assert not Person.objects.filter(email="noor@example.org").exists()


def test_whoever_joined_by_it_and_opens_it_again_is_led_back(client: Client, token: str, writer: Member) -> None:
    send(client, token)
    response = client.get(reverse("join", args=[token]))
    assert response.headers["Location"] == reverse("home", args=[writer.production.public_id])
    assert Client().get(reverse("join", args=[token])).status_code == 410


def test_the_same_form_sent_twice_lets_one_person_in(client: Client, token: str) -> None:
    assert send(client, token).status_code == 302
    assert send(Client(), token, email="noor@example.com").status_code == 410
    assert Member.objects.count() == 2


def test_an_address_that_is_known_here_signs_in_first_and_comes_back(client: Client, token: str) -> None:
    known = make_person("Noor Halloran", password=PASSWORD)
    response = send(client, token, email=known.email.upper())
    assert response.status_code == 422
    page = BeautifulSoup(response.text, "html.parser")
    way = page.select_one("[role=alert] a")
    assert way is not None
    assert way["href"] == f"{reverse('account_login')}?next={reverse('join', args=[token])}"
    sign_in = BeautifulSoup(client.get(str(way["href"])).text, "html.parser")
    fields = {str(field["name"]): str(field.get("value", "")) for field in sign_in.select("main form input")}
    fields |= {"login": known.email, "password": PASSWORD}
    assert client.post(reverse("account_login"), fields).headers["Location"] == reverse("join", args=[token])
    assert "Join as Noor Halloran" in client.get(reverse("join", args=[token])).text
    assert Invitation.objects.get().state == "open"


def test_someone_signed_in_joins_by_one_button(signed_in: SignIn, token: str) -> None:
    elsewhere = make_member(make_production("Ebb"))
    response = signed_in(elsewhere).post(reverse("join", args=[token]))
    production = Invitation.objects.get().production
    assert response.headers["Location"] == reverse("home", args=[production.public_id])
    assert Member.objects.get(production=production, person=elsewhere.person).department == Department.EDITING


def test_someone_else_at_this_device_signs_out_and_says_who_they_are(signed_in: SignIn, token: str) -> None:
    client = signed_in(make_member(make_production("Ebb")))
    response = client.post(reverse("join", args=[token]), {"someone-else": "1"}, follow=True)
    assert 'name="email"' in response.text
    assert "_auth_user_id" not in client.session
    assert Invitation.objects.get().state == "open"


def test_a_member_is_told_so_and_the_invitation_stays_unused(signed_in: SignIn, token: str, crew: Member) -> None:
    for method in ("get", "post"):
        response = getattr(signed_in(crew), method)(reverse("join", args=[token]), follow=True)
        assert "You are in this production already" in response.text
    assert Invitation.objects.get().state == "open"


def test_someone_who_was_removed_comes_back_to_their_own_notes(signed_in: SignIn, writer: Member, crew: Member) -> None:
    note = make_note(crew, make_draft(writer))
    remove_member(writer, crew)
    _, token = invite(writer, "Bo", Role.CREW, Department.LIGHTING, uuid.uuid4())
    response = signed_in(crew).post(reverse("join", args=[token]), follow=True)
    assert response.status_code == 200
    crew.refresh_from_db()
    assert (crew.removed_at, crew.department) == (None, Department.LIGHTING)
    assert note.author == crew
    assert Member.objects.filter(person=crew.person).count() == 1


def test_an_invitation_by_someone_who_is_removed_lets_nobody_in(client: Client, writer: Member) -> None:
    second = make_member(writer.production, Role.WRITER, Department.WRITING)
    _, token = invite(second, "Themselves, again", Role.WRITER, Department.WRITING, uuid.uuid4())
    remove_member(writer, second)
    response = client.get(reverse("join", args=[token]))
    assert response.status_code == 410
    assert "was withdrawn" in response.text


def test_its_page_is_kept_by_no_cache_and_tells_its_address_to_nobody(client: Client, token: str) -> None:
    for address in (reverse("join", args=[token]), reverse("join", args=["broken"])):
        response = client.get(address)
        assert "no-store" in response.headers["Cache-Control"]
        assert response.headers["Referrer-Policy"] == "strict-origin"


def test_the_token_is_kept_nowhere_but_in_the_link(client: Client, token: str) -> None:
    send(client, token)
    assert Invitation.objects.get().token_hash == hash_token(token)
    for model in (Invitation, Member, Person, Act):
        assert token not in str(list(model.objects.values()))


@pytest.mark.django_db(transaction=True)
def test_of_two_who_open_it_at_the_same_moment_one_is_in(postgres_url: str, token: str) -> None:
    at_once = Barrier(2)

    def accept(name: str) -> str:
        at_once.wait(timeout=10)
        try:
            return accept_invitation(token, name, f"{name}@example.org").name
        except LinkRefused as refusal:
            return refusal.state
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as threads:
        outcomes = sorted(threads.map(accept, ["noor", "someone"]))
    assert "used" in outcomes
    assert Member.objects.filter(department=Department.EDITING).count() == 1
    assert Person.objects.filter(name__in=["noor", "someone"]).count() == 1
