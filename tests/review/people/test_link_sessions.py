"""How far a session reaches that began by a link which somebody else made."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from django.test import Client
from django.urls import reverse

from review.access import Role
from review.log import Act
from review.people import acts
from review.people.models import Department, Member
from tests.factories import make_member, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from review.drafts.models import Draft

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db
PASSWORD = "mended nets by lamp"


@pytest.fixture
def by_link(writer: Member, crew: Member) -> Client:
    """A session as the head of department, which the writer began by a link that they made."""
    client = Client(REMOTE_ADDR="192.0.2.44")
    client.post(reverse("sign-in-link", args=[acts.make_sign_in_link(writer, crew)]))
    return client


@pytest.fixture
def other(crew: Member) -> Member:
    """The writer of another production, which the head of department is invited to."""
    return make_member(make_production("Other Film"), Role.WRITER, Department.WRITING)


def home(of: Member) -> str:
    return reverse("home", args=[of.production.public_id])


def invitation_from(other: Member) -> str:
    _, token = acts.invite(other, "Bo Finch", "crew", "camera", uuid.uuid4())
    return reverse("join", args=[token])


def sign_in_by_themselves(member: Member) -> Client:
    member.person.set_password(PASSWORD)
    member.person.save()
    client = Client()
    client.post(reverse("account_login"), {"login": member.person.email, "password": PASSWORD})
    return client


def is_over(client: Client, member: Member) -> bool:
    answer = client.get(home(member))
    return answer.status_code == 302 and answer.headers["Location"].startswith(reverse("account_login"))


def test_it_opens_the_production_that_they_share(by_link: Client, crew: Member, draft: Draft) -> None:
    assert by_link.get(home(crew)).status_code == 200


def test_it_is_over_once_the_person_joins_another_production(
    by_link: Client, signed_in: SignIn, crew: Member, other: Member
) -> None:
    signed_in(crew).post(invitation_from(other))
    assert Member.objects.filter(person=crew.person, production=other.production).exists()
    assert is_over(by_link, crew)


def test_it_reaches_into_nothing_that_its_maker_is_not_in(by_link: Client, crew: Member, other: Member) -> None:
    """However its person came to be there."""
    make_member(other.production, person=crew.person)
    assert by_link.get(home(other)).status_code == 404
    assert "Other Film" not in by_link.get(reverse("productions")).text
    assert by_link.get(home(crew)).status_code == 200


def test_it_reaches_nowhere_once_its_maker_is_removed(by_link: Client, writer: Member, crew: Member) -> None:
    second = make_member(writer.production, Role.WRITER, Department.WRITING)
    acts.remove_member(second, writer)
    assert by_link.get(home(crew)).status_code == 404


def test_it_joins_nothing(by_link: Client, crew: Member, other: Member) -> None:
    invitation = invitation_from(other)
    assert "nobody joins by it" in by_link.get(invitation).text
    assert by_link.post(invitation).status_code == 403
    assert not Member.objects.filter(person=crew.person, production=other.production).exists()


def test_it_is_over_once_the_person_signs_in_by_themselves(by_link: Client, crew: Member) -> None:
    theirs = sign_in_by_themselves(crew)
    assert is_over(by_link, crew)
    assert theirs.get(home(crew)).status_code == 200


def test_it_is_over_once_the_person_has_another_role(by_link: Client, writer: Member, crew: Member) -> None:
    acts.change_role(writer, crew, acts.RoleInProduction("writer", "writing", ""))
    assert is_over(by_link, crew)


def test_it_chooses_no_password(by_link: Client, crew: Member) -> None:
    form = {"password1": PASSWORD, "password2": PASSWORD, "oldpassword": PASSWORD}
    for name in ("account_set_password", "account_change_password"):
        assert by_link.get(reverse(name)).status_code == 403
        answer = by_link.post(reverse(name), form)
        assert answer.status_code == 403
        assert "no password can be chosen here" in answer.text
    crew.person.refresh_from_db()
    assert not crew.person.has_usable_password()


def test_it_shows_their_address_nowhere(by_link: Client, crew: Member, other: Member) -> None:
    pages = [home(crew), reverse("productions"), reverse("people", args=[crew.production.public_id])]
    pages += [invitation_from(other), reverse("account_set_password"), reverse("account_logout")]
    for page in pages:
        assert crew.person.email not in by_link.get(page).text, page


def test_a_link_used_in_a_session_of_one_s_own_leaves_it_one_s_own(
    signed_in: SignIn, writer: Member, crew: Member
) -> None:
    client = signed_in(crew)
    client.post(reverse("sign-in-link", args=[acts.make_sign_in_link(writer, crew)]))
    assert client.get(reverse("account_set_password")).status_code == 200


def test_who_made_it_and_who_used_it_is_logged_with_the_address(by_link: Client, writer: Member, crew: Member) -> None:
    made, used = Act.objects.order_by("pk")
    assert (made.verb, made.person, made.details["name"]) == (Act.Verb.MADE_SIGN_IN_LINK, writer.person, crew.name)
    assert (used.verb, used.person, used.details["made_by"]) == (Act.Verb.USED_SIGN_IN_LINK, crew.person, writer.name)
    assert (used.production, used.address, used.about) == (writer.production, "192.0.2.44", made.about)


def test_before_it_is_used_it_says_who_made_it(client: Client, writer: Member, crew: Member) -> None:
    page = client.get(reverse("sign-in-link", args=[acts.make_sign_in_link(writer, crew)])).text
    assert "Ada Wren made this link for you, Bo Finch." in page
