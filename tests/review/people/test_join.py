"""Joining a production by an invitation."""

from __future__ import annotations

import logging
import uuid
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from io import StringIO
from threading import Barrier
from typing import TYPE_CHECKING

import pytest
from django.db import connection
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from review.access import Role
from review.log import Act
from review.masking import PlainLines
from review.people import acts
from review.people.models import Department, Invitation, Member, Person, SignInLink
from tests.factories import make_draft, make_member, make_person, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


@pytest.fixture
def token(writer: Member) -> str:
    return invited(writer)


def invited(by: Member, role: Role = Role.CREW, department: Department = Department.LIGHTING) -> str:
    _, token = acts.invite(by, "Sunniva Grey", role, department, uuid.uuid4())
    assert token
    return token


def address(token: str) -> str:
    return reverse("join", args=[token])


def who(**fields: str) -> dict[str, str]:
    return {"name": "Sunniva Grey", "email": "sunniva@example.org", "password": ""} | fields


def test_it_says_who_invites_to_what_and_as_whom_and_knows_the_name(client: Client, token: str) -> None:
    page = client.get(address(token)).text
    for told in ("Ada Wren invites you", "Slack Water", "crew, in lighting and grip", 'value="Sunniva Grey"'):
        assert told in page


def test_a_new_person_says_who_they_are_and_is_in(client: Client, token: str, writer: Member) -> None:
    response = client.post(address(token), who())
    member = Member.objects.get(person__email="sunniva@example.org")
    assert (member.production, member.role, member.department) == (writer.production, Role.CREW, Department.LIGHTING)
    assert not member.person.has_usable_password()
    assert not member.person.starts_productions
    home = reverse("home", args=[writer.production.public_id])
    assert response.headers["Location"] == home
    welcome = client.get(home).text
    assert "You are in, Sunniva Grey." in welcome
    assert "Start with the script." not in welcome  # there is none yet
    act = Act.objects.get(verb=Act.Verb.JOINED)
    assert (act.person, act.production) == (member.person, writer.production)


def test_a_password_chosen_here_signs_in_later(client: Client, token: str) -> None:
    client.post(address(token), who(password="two lamps and a net"))
    assert Person.objects.get(email="sunniva@example.org").check_password("two lamps and a net")


@pytest.mark.parametrize("weak", ["short", "1234567890", "password1234"])
def test_a_weak_password_is_refused_and_the_invitation_stays_unused(client: Client, token: str, weak: str) -> None:
    response = client.post(address(token), who(password=weak))
    assert response.status_code == 422
    assert 'id="id_password_error"' in response.text
    assert Invitation.objects.get().state == "open"
    assert not Person.objects.filter(email="sunniva@example.org").exists()


def test_a_known_address_is_asked_to_sign_in_first_and_comes_back(client: Client, token: str, crew: Member) -> None:
    response = client.post(address(token), who(email=crew.person.email.upper()))
    assert response.status_code == 422
    assert "sign in first" in response.text
    assert f"{reverse('account_login')}?next={address(token)}" in response.text
    assert Invitation.objects.get().state == "open"
    assert "_auth_user_id" not in client.session


def test_a_link_that_never_was_is_not_found(client: Client) -> None:
    response = client.get(address("nonsense"))
    assert response.status_code == 404
    assert "This invitation is broken" in response.text


@pytest.mark.parametrize(
    ("field", "sentence"),
    [
        ("used_at", "This invitation has been used"),
        ("withdrawn_at", "This invitation was withdrawn"),
        ("expires_at", "This invitation has expired"),
    ],
)
@pytest.mark.parametrize("method", ["get", "post"])
def test_a_link_that_no_longer_opens_says_why(
    client: Client, token: str, field: str, sentence: str, method: str
) -> None:
    Invitation.objects.update(**{field: timezone.now() - timedelta(minutes=1)})
    people = Person.objects.count()
    response = getattr(client, method)(address(token), who())
    assert response.status_code == 410
    assert sentence in response.text
    assert Person.objects.count() == people


def test_a_link_lasts_to_its_last_minute_and_not_beyond(client: Client, token: str) -> None:
    Invitation.objects.update(expires_at=timezone.now() + timedelta(minutes=1))
    assert client.get(address(token)).status_code == 200


def test_looking_uses_nothing_up(client: Client, token: str) -> None:
    for _ in range(3):
        assert client.get(address(token)).status_code == 200
    assert client.post(address(token), who()).status_code == 302


def test_it_lets_one_person_in_once(token: str) -> None:
    Client().post(address(token), who())
    response = Client().post(address(token), who(name="Other", email="other@example.org"))
    assert response.status_code == 410
    assert not Person.objects.filter(email="other@example.org").exists()


def test_someone_signed_in_joins_by_one_button(signed_in: SignIn, token: str, writer: Member) -> None:
    elsewhere = make_member(make_production("Elsewhere"), name="Bo Finch")
    client = signed_in(elsewhere)
    page = client.get(address(token)).text
    assert "Join as Bo Finch" in page
    assert "id_email" not in page
    client.post(address(token))
    joined = Member.objects.get(production=writer.production, person=elsewhere.person)
    assert joined.department == Department.LIGHTING
    assert Invitation.objects.get().used_by == joined
    assert Person.objects.filter(name="Sunniva Grey").count() == 0


def test_someone_signed_in_can_say_they_are_someone_else(signed_in: SignIn, token: str, writer: Member) -> None:
    client = signed_in(make_member(make_production("Elsewhere")))
    response = client.post(address(token), {"someone-else": "1"})
    assert response.headers["Location"] == address(token)
    assert "_auth_user_id" not in client.session
    assert "id_email" in client.get(address(token)).text
    assert Invitation.objects.get().state == "open"


def test_where_a_draft_is_up_a_new_person_is_led_to_it(client: Client, token: str, writer: Member) -> None:
    make_draft(writer)
    assert "You are in, Sunniva Grey. Start with the script." in client.post(address(token), who(), follow=True).text


@pytest.mark.parametrize("method", ["get", "post"])
def test_a_member_who_opens_another_s_invitation_does_not_use_it_up(
    signed_in: SignIn, token: str, crew: Member, method: str
) -> None:
    response = getattr(signed_in(crew), method)(address(token), follow=True)
    assert "You are in this production already." in response.text
    assert Invitation.objects.get().state == "open"
    assert Member.objects.get(pk=crew.pk).department == Department.CAMERA


def test_whoever_joined_by_it_and_opens_it_again_is_led_back_in(client: Client, token: str, writer: Member) -> None:
    client.post(address(token), who())
    response = client.get(address(token))
    assert response.headers["Location"] == reverse("home", args=[writer.production.public_id])


def test_whoever_joined_by_it_and_was_removed_is_not_led_back_in(client: Client, token: str, writer: Member) -> None:
    client.post(address(token), who())
    acts.remove_member(writer, Member.objects.get(person__email="sunniva@example.org"))
    assert client.get(address(token)).status_code == 410


def test_someone_removed_returns_to_their_own_membership(signed_in: SignIn, writer: Member, crew: Member) -> None:
    acts.remove_member(writer, crew)
    client = signed_in(crew)
    client.post(address(invited(writer, Role.PRODUCER, Department.PRODUCTION)))
    back = Member.objects.get(production=writer.production, person=crew.person)
    assert back.pk == crew.pk
    assert (back.role, back.department, back.removed_at) == (Role.PRODUCER, Department.PRODUCTION, None)


def test_a_sign_in_link_made_before_does_not_reach_into_what_is_joined_after(
    signed_in: SignIn, writer: Member, crew: Member
) -> None:
    link = acts.make_sign_in_link(writer, crew)
    other = make_member(make_production("Elsewhere"), Role.WRITER)
    signed_in(crew).post(address(invited(other)))
    assert SignInLink.objects.get().state == "withdrawn"
    with pytest.raises(acts.LinkRefused):
        acts.use_sign_in_link(link, from_this_machine=False)


def test_the_session_of_before_is_not_carried_into_the_new_sign_in(client: Client, token: str) -> None:
    client.get(reverse("account_login"))
    session = client.session
    session["mark"] = "planted"
    session.save()
    planted = session.session_key
    client.cookies["sessionid"] = planted or ""
    client.post(address(token), who())
    assert client.session.session_key != planted


def test_the_token_is_kept_as_a_hash_alone(token: str) -> None:
    invitation = Invitation.objects.get()
    assert token not in str(vars(invitation))
    assert token not in str(list(Act.objects.values()))
    assert len(token) >= 43  # 256 bits in base64


@pytest.mark.parametrize("state", ["open", "used", "unknown"])
def test_no_token_gets_into_the_log_whatever_goes_wrong(client: Client, token: str, state: str) -> None:
    if state == "used":
        Invitation.objects.update(used_at=timezone.now())
    asked = token if state != "unknown" else token[:-1]
    written = StringIO()
    handler = logging.StreamHandler(written)
    handler.setFormatter(PlainLines())
    logging.getLogger().addHandler(handler)
    try:
        client.post(address(asked), who(email="not whole"))
        Client(enforce_csrf_checks=True).post(address(asked), who())
    finally:
        logging.getLogger().removeHandler(handler)
    assert "/join/…/" in written.getvalue()  # what is said, is said without the secret
    assert asked not in written.getvalue()


def test_the_server_s_own_log_goes_through_the_mask() -> None:
    streams = [handler for handler in logging.getLogger().handlers if type(handler) is logging.StreamHandler]
    assert streams
    assert all(isinstance(handler.formatter, PlainLines) for handler in streams)


@pytest.mark.django_db(transaction=True)
def test_two_who_open_it_at_once_make_one_member(postgres_url: str) -> None:
    writer = make_member(make_production(), Role.WRITER, Department.WRITING)
    token, at_once = invited(writer), Barrier(2)

    def join(name: str) -> str:
        try:
            at_once.wait(timeout=10)
            acts.accept_invitation(token, name, f"{name}@example.org")
        except acts.LinkRefused as refusal:
            return refusal.state
        else:
            return "in"
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as threads:
        assert sorted(threads.map(join, ["sunniva", "other"])) == ["in", "used"]
    assert Member.objects.filter(production=writer.production).count() == 2
    assert Person.objects.filter(memberships=None, productions_started=None).count() == 0


@pytest.mark.django_db(transaction=True)
def test_one_person_who_joins_twice_at_once_is_in_once(postgres_url: str) -> None:
    writer = make_member(make_production(), Role.WRITER, Department.WRITING)
    token, at_once, person = invited(writer), Barrier(2), make_person("Bo Finch")

    def join(_: int) -> str:
        client = Client()
        client.force_login(person, backend="allauth.account.auth_backends.AuthenticationBackend")
        try:
            at_once.wait(timeout=10)
            return client.post(address(token)).headers["Location"]
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as threads:
        led_to = set(threads.map(join, range(2)))
    assert led_to == {reverse("home", args=[writer.production.public_id])}
    assert Member.objects.filter(person=person).count() == 1
