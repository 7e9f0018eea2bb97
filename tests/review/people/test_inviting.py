"""Invitations on the People screen: made, refused, withdrawn, and their links with a message to send."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any
from urllib.parse import parse_qs, urlsplit

import pytest
from bs4 import BeautifulSoup
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from review.access import Role
from review.log import Act
from review.people import acts
from review.people.models import Department, Invitation, Member
from tests.factories import make_draft, make_member, make_production
from tests.review.people.people_steps import filled_in, fresh_link, invite_from, people_of

if TYPE_CHECKING:
    from collections.abc import Callable

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


def test_inviting_shows_the_link_once_and_the_link_opens(signed_in: SignIn, writer: Member) -> None:
    client = signed_in(writer)
    link = fresh_link(client.post(invite_from(writer), filled_in()).text)
    assert link.startswith("http://testserver/join/")
    assert Client().get(link.removeprefix("http://testserver")).status_code == 200
    assert link not in client.get(people_of(writer)).text
    invitation = Invitation.objects.get()
    assert (invitation.name, invitation.role, invitation.department) == ("Sunniva Grey", "crew", "lighting")
    act = Act.objects.get(verb=Act.Verb.INVITED)
    assert (act.about, act.details["name"]) == (invitation.public_id, "Sunniva Grey")


def shown(page: str) -> list[str]:
    return [str(field["value"]) for field in BeautifulSoup(page, "html.parser").select(".fresh-link-row input")]


def sent_along(page: str) -> list[str]:
    return [str(field["value"]) for field in BeautifulSoup(page, "html.parser").select("[name=shown]")]


def test_links_made_one_after_another_stand_side_by_side_and_each_opens(signed_in: SignIn, writer: Member) -> None:
    client = signed_in(writer)
    page, made = client.post(invite_from(writer), filled_in()).text, []
    for name in ("Ida Roe", "Noor Vale"):
        made.append(fresh_link(page))
        page = client.post(invite_from(writer), filled_in(name=name, shown=sent_along(page))).text
        assert set(made) < set(shown(page))
    assert "3 links to send" in page
    for link in shown(page):
        assert Client().get(link.removeprefix("http://testserver")).status_code == 200
    assert shown(client.get(people_of(writer)).text) == []


def test_a_form_that_is_refused_keeps_the_links_before_it_in_view(signed_in: SignIn, writer: Member) -> None:
    client = signed_in(writer)
    page = client.post(invite_from(writer), filled_in()).text
    response = client.post(invite_from(writer), filled_in(name=" ", shown=sent_along(page)))
    assert response.status_code == 422
    assert shown(response.text) == shown(page)


def test_no_token_that_is_made_up_used_or_of_another_production_is_shown(signed_in: SignIn, writer: Member) -> None:
    other = make_member(make_production("Elsewhere"), Role.WRITER, Department.WRITING)
    _, theirs = acts.invite(other, "Ida", "crew", "art", uuid.uuid4())
    invitation, withdrawn = acts.invite(writer, "Ida", "crew", "art", uuid.uuid4())
    acts.withdraw_invitation(writer, invitation)
    tokens = ["made up", "", str(theirs), str(withdrawn), "é" * 400]
    page = signed_in(writer).post(invite_from(writer), filled_in(shown=tokens)).text
    assert len(shown(page)) == 1
    assert "Elsewhere" not in page


def test_a_message_brings_each_link_with_names_and_the_day_it_ends(signed_in: SignIn, writer: Member) -> None:
    page = BeautifulSoup(signed_in(writer).post(invite_from(writer), filled_in(name="Bo & Ida")).text, "html.parser")
    message = page.select_one("textarea[readonly]").get_text()  # type: ignore[union-attr]
    invitation = Invitation.objects.get()
    assert message.strip().startswith("Hello Bo & Ida,")
    assert message.strip().endswith("Ada Wren")
    assert "“Slack Water”" in message
    assert f"{timezone.localtime(invitation.expires_at):%B %Y}" in message
    assert fresh_link(str(page)) in message
    mail = urlsplit(str(page.select_one('a[href^="mailto:"]')["href"]))  # type: ignore[index]
    assert parse_qs(mail.query)["body"] == [message.strip()]
    assert mail.path == ""


def test_the_same_form_twice_makes_one_invitation_and_shows_no_second_link(signed_in: SignIn, writer: Member) -> None:
    client, form = signed_in(writer), filled_in()
    client.post(invite_from(writer), form)
    response = client.post(invite_from(writer), form, follow=True)
    assert "invited by this form already" in response.text
    assert not fresh_link(response.text)
    assert Invitation.objects.count() == 1
    assert Act.objects.filter(verb=Act.Verb.INVITED).count() == 1


def test_a_form_filled_in_anew_after_going_back_invites_the_other_person_too(signed_in: SignIn, writer: Member) -> None:
    client, form = signed_in(writer), filled_in()
    client.post(invite_from(writer), form)
    assert fresh_link(client.post(invite_from(writer), form | {"name": "Ida Roe"}).text)
    assert set(Invitation.objects.values_list("name", flat=True)) == {"Sunniva Grey", "Ida Roe"}


@pytest.mark.parametrize(
    ("field", "value", "sentence"),
    [
        ("name", " ", "Say whom you invite."),
        ("department", "", "Choose a department."),
        ("department", "catering", "Select a valid choice."),
        ("role", "owner", "Select a valid choice."),
        ("form_id", "nonsense", "valid UUID"),
    ],
)
def test_an_invitation_that_is_not_right_is_refused_at_its_field(
    signed_in: SignIn, writer: Member, field: str, value: str, sentence: str
) -> None:
    response = signed_in(writer).post(invite_from(writer), filled_in(**{field: value}))
    assert response.status_code == 422
    assert sentence in response.text
    assert not Invitation.objects.exists()


def test_a_withdrawn_invitation_opens_no_more(signed_in: SignIn, writer: Member) -> None:
    client = signed_in(writer)
    link = fresh_link(client.post(invite_from(writer), filled_in()).text)
    invitation = Invitation.objects.get()
    withdraw = reverse("invitation-withdraw", args=[writer.production.public_id, invitation.public_id])
    for _ in range(2):
        response = client.post(withdraw, follow=True)
        assert "no longer lets anyone in" in response.text
    assert Client().get(link.removeprefix("http://testserver")).status_code == 410
    assert Act.objects.filter(verb=Act.Verb.WITHDREW_INVITATION).count() == 1


def test_withdrawing_a_used_invitation_leaves_its_member_in(signed_in: SignIn, writer: Member) -> None:
    invitation, token = acts.invite(writer, "Ida", "crew", "art", uuid.uuid4())
    member = acts.accept_invitation(token or "", "Ida", "ida@example.org")
    acts.withdraw_invitation(writer, invitation)
    invitation.refresh_from_db()
    member.refresh_from_db()
    assert (invitation.state, member.removed_at) == ("used", None)


def test_an_invitation_says_whom_one_of_the_cast_plays(signed_in: SignIn, writer: Member) -> None:
    fields = filled_in(role="cast", department="cast", character="  NELL  BRIGHT ")
    link = fresh_link(signed_in(writer).post(invite_from(writer), fields).text)
    member = acts.accept_invitation(link.rstrip("/").rpartition("/")[2], "Sunniva Grey", "sunniva@example.org")
    assert member.character == "NELL BRIGHT"
    page = signed_in(member).get(people_of(member)).text
    assert "plays NELL BRIGHT" in page


@pytest.mark.parametrize("host", ["127.0.0.1:8000", "localhost", "[::1]:8000"])
def test_a_link_made_at_an_address_of_this_machine_alone_says_so(
    signed_in: SignIn, writer: Member, settings: Any, host: str
) -> None:
    settings.ALLOWED_HOSTS = ["*"]
    response = signed_in(writer).post(invite_from(writer), filled_in(), HTTP_HOST=host)
    assert "This address works on this machine only." in response.text
    assert "--host 0.0.0.0" in response.text


@pytest.mark.parametrize("host", ["192.168.1.20:8000", "fairhand.example.org"])
def test_a_link_made_at_an_address_others_reach_says_no_such_thing(
    signed_in: SignIn, writer: Member, settings: Any, host: str
) -> None:
    settings.ALLOWED_HOSTS = ["*"]
    response = signed_in(writer).post(invite_from(writer), filled_in(), HTTP_HOST=host)
    assert fresh_link(response.text)
    assert "this machine only" not in response.text


def test_whoever_is_invited_may_play_somebody_of_the_script(signed_in: SignIn, writer: Member) -> None:
    make_draft(writer)
    page = BeautifulSoup(signed_in(writer).get(people_of(writer)).text, "html.parser")
    names = [str(option["value"]) for option in page.select("datalist#cast-names option")]
    assert names == ["NELL", "TOBIAS"]
    assert page.select('form[action] input[name=character][list="cast-names"]')
