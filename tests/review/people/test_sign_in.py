"""Signing in and out, and passwords: the sign-in library's screens as they are set up here."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest
from django.conf import global_settings
from django.core import mail
from django.test import Client, override_settings
from django.urls import reverse

import project.settings
from review.people.models import Person
from tests.factories import make_person

if TYPE_CHECKING:
    from review.people.models import Member

pytestmark = pytest.mark.django_db
PASSWORD = "mended nets by lamp"
SIGN_IN = "/account/sign-in/"


@pytest.fixture
def person(crew: Member) -> Person:
    crew.person.set_password(PASSWORD)
    crew.person.save()
    return crew.person


def sign_in(client: Client, person: Person, password: str = PASSWORD, **fields: str) -> int:
    return client.post(SIGN_IN, {"login": person.email, "password": password} | fields).status_code


def is_signed_in(client: Client) -> bool:
    return "_auth_user_id" in client.session


def test_a_password_is_kept_as_a_salted_hash_that_is_slow_to_try() -> None:
    """At least 600,000 rounds for PBKDF2 with SHA-256: the OWASP Password Storage Cheat Sheet (from memory).

    Other tests have a quicker one.
    """
    served = getattr(project.settings, "PASSWORD_HASHERS", global_settings.PASSWORD_HASHERS)
    with override_settings(PASSWORD_HASHERS=served):
        kept = [make_person(password=PASSWORD).password for _ in range(2)]
    way, rounds, salt, _ = kept[0].split("$")
    assert way == "pbkdf2_sha256"
    assert int(rounds) >= 600_000
    assert len(salt) >= 16
    assert kept[0] != kept[1]


def test_an_address_and_its_password_sign_in_and_lead_to_the_one_production(
    client: Client, person: Person, crew: Member
) -> None:
    response = client.post(SIGN_IN, {"login": person.email.upper(), "password": PASSWORD})
    assert response.headers["Location"] == reverse("home", args=[crew.production.public_id])
    assert is_signed_in(client)


def test_it_leads_back_to_the_page_that_was_asked_for(client: Client, person: Person, crew: Member) -> None:
    home = reverse("home", args=[crew.production.public_id])
    asked = client.get(home).headers["Location"]
    assert asked == f"{SIGN_IN}?next={home}"
    page = client.get(asked).text
    assert f'value="{home}"' in page
    response = client.post(SIGN_IN, {"login": person.email, "password": PASSWORD, "next": home})
    assert response.headers["Location"] == home


@pytest.mark.parametrize(
    "elsewhere", ["https://example.com/", "//example.com/", "/\\example.com", "javascript:alert(1)", "http:///x.com"]
)
def test_it_never_leads_to_another_site(client: Client, person: Person, elsewhere: str) -> None:
    home = reverse("home", args=[person.memberships.get().production.public_id])
    response = client.post(SIGN_IN, {"login": person.email, "password": PASSWORD, "next": elsewhere})
    assert response.headers["Location"] == home
    already = client.get(SIGN_IN, {"next": elsewhere})
    assert already.headers["Location"] == home


def test_a_wrong_password_and_an_unknown_address_get_the_same_answer(person: Person) -> None:
    answers = []
    for login, password in ((person.email, "not this one at all"), ("nobody@example.org", PASSWORD)):
        client = Client()
        page = client.post(SIGN_IN, {"login": login, "password": password}).text
        assert not is_signed_in(client)
        answers.append(re.findall(r'<ul class="field-errors.*?</ul>', page, re.DOTALL))
    assert answers[0] == answers[1] != []


def test_someone_who_joined_without_a_password_is_let_in_by_none(client: Client, crew: Member) -> None:
    for password in ("", "!", crew.person.password):
        sign_in(client, crew.person, password)
        assert not is_signed_in(client)


def test_a_closed_account_is_let_in_by_its_password_no_more(client: Client, person: Person) -> None:
    Person.objects.update(is_active=False)
    sign_in(client, person)
    assert not is_signed_in(client)


def test_the_session_of_before_is_not_carried_into_the_new_one(client: Client, person: Person) -> None:
    session = client.session
    session["planted"] = "by someone else"
    session.save()
    before = session.session_key or ""
    client.cookies["sessionid"] = before
    sign_in(client, person)
    assert is_signed_in(client)
    assert client.session.session_key != before


def test_many_tries_of_one_password_are_stopped_even_with_the_right_one(client: Client, person: Person) -> None:
    for _ in range(5):
        sign_in(client, person, "not this one at all")
    response = client.post(SIGN_IN, {"login": person.email, "password": PASSWORD})
    assert not is_signed_in(client)
    assert "That was tried too often." in response.text


def test_a_flood_of_tries_gets_a_page_that_says_to_wait(client: Client, person: Person) -> None:
    for nth in range(40):
        response = client.post(SIGN_IN, {"login": f"nobody{nth}@example.org", "password": "x"})
        if response.status_code == 429:
            break
    assert response.status_code == 429
    assert "Wait five minutes" in response.text
    assert "common.css" in response.text


def test_a_forged_form_signs_nobody_in(person: Person) -> None:
    client = Client(enforce_csrf_checks=True)
    assert sign_in(client, person) == 403
    assert not is_signed_in(client)


def test_signing_out_is_asked_and_then_done(client: Client, person: Person) -> None:
    sign_in(client, person)
    assert "Sign out?" in client.get(reverse("account_logout")).text
    assert is_signed_in(client)
    assert client.post(reverse("account_logout")).headers["Location"] == SIGN_IN
    assert not is_signed_in(client)


def test_a_password_is_changed_by_whoever_knows_it(client: Client, person: Person) -> None:
    sign_in(client, person)
    address, new = reverse("account_change_password"), "two lamps and a net"
    elsewhere = Client()
    sign_in(elsewhere, person)
    refused = client.post(address, {"oldpassword": "wrong by far", "password1": new, "password2": new})
    assert "field-errors" in refused.text
    client.post(address, {"oldpassword": PASSWORD, "password1": new, "password2": new})
    person.refresh_from_db()
    assert person.check_password(new)
    assert client.get(address).status_code == 200  # still signed in here
    assert elsewhere.get(address).status_code == 302  # and nowhere else


@pytest.mark.parametrize(("new", "again"), [("short", "short"), (PASSWORD, "something else")])
def test_a_new_password_is_held_to_the_rules(client: Client, person: Person, new: str, again: str) -> None:
    sign_in(client, person)
    client.post(reverse("account_change_password"), {"oldpassword": PASSWORD, "password1": new, "password2": again})
    person.refresh_from_db()
    assert person.check_password(PASSWORD)


def test_someone_who_came_by_a_link_chooses_a_password(client: Client, crew: Member) -> None:
    client.force_login(crew.person, backend="allauth.account.auth_backends.AuthenticationBackend")
    choose = reverse("account_set_password")
    assert client.get(reverse("account_change_password")).headers["Location"] == choose
    assert crew.person.email in client.get(choose).text
    client.post(choose, {"password1": PASSWORD, "password2": PASSWORD})
    assert sign_in(Client(), crew.person) == 302
    assert client.get(choose).headers["Location"] == reverse("account_change_password")


def test_a_forgotten_password_is_replaced_by_a_link_that_works_once(client: Client, person: Person) -> None:
    client.post(reverse("account_reset_password"), {"email": person.email})
    (message,) = mail.outbox
    assert message.to == [person.email]
    assert message.subject == "Fairhand: Choose a new password"
    found = re.search(r"http://testserver(/account/password/forgotten/\S+)", str(message.body))
    assert found
    form = client.get(found.group(1), follow=True)
    assert "Choose a new password" in form.text
    new = "two lamps and a net"
    client.post(form.request["PATH_INFO"], {"password1": new, "password2": new})
    person.refresh_from_db()
    assert person.check_password(new)
    assert "This link does not open" in Client().get(found.group(1), follow=True).text


def test_nobody_learns_whether_an_address_is_here_nor_has_mail_sent_to_one_that_is_not(
    client: Client, person: Person
) -> None:
    answers = [
        client.post(reverse("account_reset_password"), {"email": email}, follow=True)
        for email in (person.email, "nobody@example.org")
    ]
    known, unknown = (re.sub(r'"X-CSRFToken": "\w+"', "", answer.text) for answer in answers)
    assert known == unknown
    assert [message.to for message in mail.outbox] == [[person.email]]


@pytest.mark.parametrize("method", ["get", "post"])
def test_nobody_signs_up(client: Client, method: str) -> None:
    form = {"email": "odd@example.org", "password1": PASSWORD, "password2": PASSWORD}
    response = getattr(client, method)(reverse("account_signup"), form)
    assert "People come by invitation" in response.text
    assert not Person.objects.exists()


@pytest.mark.parametrize("name", ["account_login", "account_reset_password"])
def test_every_field_has_a_label_and_no_placeholder_in_its_stead(client: Client, name: str) -> None:
    page = client.get(reverse(name)).text
    fields = set(re.findall(r'<(?:input|select)[^>]*\bid="(id_\w+)"', page))
    assert fields
    assert fields <= set(re.findall(r'<label for="(\w+)"', page))
    assert "placeholder" not in page


def test_a_person_s_address_is_kept_in_small_letters() -> None:
    assert Person.objects.create_user(" Ada@Example.ORG ", "Ada").email == "ada@example.org"
    assert Person.objects.get_by_natural_key("ADA@example.org").name == "Ada"
    assert make_person().has_usable_password() is False
