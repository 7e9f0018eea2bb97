"""The People screen, and what a writer does there."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from review.access import Role
from review.log import Act
from review.people import acts
from review.people.models import Department, Invitation, Member, SignInLink
from tests.factories import make_member, make_person, make_production
from tests.review.people.people_steps import filled_in, fresh_link, invite_from, link_for, people_of, remove, role_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from review.drafts.models import Draft

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


def test_everybody_sees_who_is_in_and_nobody_sees_an_address(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member
) -> None:
    for member in (writer, crew, cast):
        page = signed_in(member).get(people_of(member)).text
        assert all(name in page for name in ("Ada Wren", "Bo Finch", "Cleo Marsh"))
        assert "@example.org" not in page


def test_a_reader_sees_neither_invitations_nor_ways_to_change_anything(
    signed_in: SignIn, writer: Member, crew: Member
) -> None:
    acts.invite(writer, "Sunniva Grey", "crew", "lighting", uuid.uuid4())
    page = BeautifulSoup(signed_in(crew).get(people_of(crew)).text, "html.parser")
    assert "Sunniva" not in page.text
    assert [form["action"] for form in page.select("main form")] == []


def test_a_writer_makes_a_link_that_signs_a_reader_in(signed_in: SignIn, writer: Member, crew: Member) -> None:
    response = signed_in(writer).post(link_for(writer, crew))
    link = fresh_link(response.text).removeprefix("http://testserver")
    assert "no-store" in response.headers["Cache-Control"]
    reader = Client()
    reader.post(link)
    assert reader.session["_auth_user_id"] == str(crew.person.pk)
    act = Act.objects.get(verb=Act.Verb.MADE_SIGN_IN_LINK)
    assert (act.person, act.details["name"]) == (writer.person, "Bo Finch")


def test_a_newer_link_withdraws_the_one_before_it(writer: Member, crew: Member) -> None:
    first = acts.make_sign_in_link(writer, crew)
    acts.make_sign_in_link(writer, crew)
    with pytest.raises(acts.LinkRefused, match="withdrawn"):
        acts.find_sign_in_link(first, from_this_machine=False)


def no_link_for(signed_in: SignIn, writer: Member, other: Member) -> bool:
    """The screen offers no link for this member, and asking for one anyway makes none."""
    client = signed_in(writer)
    offered = link_for(writer, other) in client.get(people_of(writer)).text
    response = client.post(link_for(writer, other), follow=True)
    return not offered and "so nobody else can make one" in response.text and not SignInLink.objects.exists()


def test_no_link_is_made_for_another_writer(signed_in: SignIn, writer: Member, second_writer: Member) -> None:
    assert no_link_for(signed_in, writer, second_writer)


def test_no_link_is_made_for_whoever_set_the_server_up(signed_in: SignIn, writer: Member) -> None:
    starter = make_member(writer.production, Role.PRODUCER, person=make_person(starts_productions=True))
    assert no_link_for(signed_in, writer, starter)


@pytest.mark.parametrize("still_there", [True, False])
def test_no_link_is_made_for_someone_who_is_or_was_in_a_production_of_others(
    signed_in: SignIn, writer: Member, crew: Member, still_there: bool
) -> None:
    elsewhere = make_member(make_production("Elsewhere"), person=crew.person)
    if not still_there:
        elsewhere.removed_at = timezone.now()
        elsewhere.save()
    assert no_link_for(signed_in, writer, crew)


def test_a_link_is_made_for_someone_whose_productions_are_all_the_writer_s_own(
    signed_in: SignIn, writer: Member, crew: Member
) -> None:
    second = make_production("Second Film")
    make_member(second, Role.WRITER, Department.WRITING, person=writer.person)
    make_member(second, person=crew.person)
    assert fresh_link(signed_in(writer).post(link_for(writer, crew)).text)


def test_a_writer_says_whom_one_of_the_cast_plays_and_it_is_logged_once(
    signed_in: SignIn, writer: Member, cast: Member
) -> None:
    for _ in range(2):
        signed_in(writer).post(role_of(writer, cast), {"role": "cast", "department": "cast", "character": " TOBIAS "})
    cast.refresh_from_db()
    assert cast.character == "TOBIAS"
    assert [act.verb for act in Act.objects.filter(production=writer.production)] == [Act.Verb.NAMED_CHARACTER]


def test_whom_somebody_plays_is_called_as_the_script_has_it_however_it_was_typed(
    signed_in: SignIn, writer: Member, cast: Member, draft: Draft
) -> None:
    signed_in(writer).post(role_of(writer, cast), {"role": "cast", "department": "cast", "character": "tobias"})
    assert "plays TOBIAS" in signed_in(cast).get(people_of(cast)).text
    assert "plays TOBIAS" in signed_in(writer).get(reverse("reading-new", args=[writer.production.public_id])).text
    signed_in(writer).post(role_of(writer, cast), {"role": "cast", "department": "cast", "character": "The ferryman"})
    assert "plays The ferryman" in signed_in(cast).get(people_of(cast)).text


@pytest.mark.parametrize(
    ("typed", "meant"), [("Tobias Wick", "TOBIAS"), ("Tobias Nell", ""), ("Tob", ""), ("", "")], ids=str
)
def test_the_one_name_in_the_script_that_shares_the_words_of_the_one_given_is_offered_to_the_writer(
    signed_in: SignIn, writer: Member, cast: Member, draft: Draft, typed: str, meant: str
) -> None:
    Member.objects.filter(pk=cast.pk).update(character=typed)
    client = signed_in(writer)
    page = BeautifulSoup(client.get(people_of(writer)).text, "html.parser")
    offers = [each for each in page.select("form") if each.text.strip() == f"{cast.name} plays {meant}"]
    assert bool(offers) is bool(meant)
    assert (f"Is it {meant}?" in page.text) is bool(meant)
    assert "plays TOBIAS" not in "".join(each.text for each in own_page(signed_in(cast), cast).select("button"))
    for offer in offers:
        fields = {str(each["name"]): str(each["value"]) for each in offer.select("[type=hidden]")}
        client.post(str(offer["action"]), fields)
        cast.refresh_from_db()
        assert (cast.role, cast.department, cast.character) == ("cast", "cast", meant)


def own_page(client: Client, member: Member) -> BeautifulSoup:
    return BeautifulSoup(client.get(people_of(member)).text, "html.parser")


def test_a_name_under_which_nobody_speaks_yet_stays_and_is_said_to_be_none(
    signed_in: SignIn, writer: Member, cast: Member, draft: Draft
) -> None:
    sentence = "Nobody speaks under OTO in draft 1."
    client = signed_in(writer)
    told = filled_in(name="Oto's player", role="cast", department="cast", character="OTO")
    assert sentence in client.post(invite_from(writer), told).text
    acts.withdraw_invitation(writer, Invitation.objects.get())
    client.post(role_of(writer, cast), {"role": "cast", "department": "cast", "character": "OTO"})
    assert sentence in client.get(people_of(writer)).text
    assert sentence in client.get(reverse("reading-new", args=[writer.production.public_id])).text
    client.post(role_of(writer, cast), {"role": "cast", "department": "cast", "character": "tobias"})
    assert "Nobody speaks under" not in client.get(people_of(writer)).text


def test_a_name_too_long_for_a_character_changes_nothing(signed_in: SignIn, writer: Member, cast: Member) -> None:
    fields = {"role": "cast", "department": "cast", "character": "N" * 121}
    response = signed_in(writer).post(role_of(writer, cast), fields, follow=True)
    assert "120 letters at most" in response.text
    cast.refresh_from_db()
    assert cast.character == ""


def test_a_writer_changes_a_role_and_a_department_and_it_is_logged_as_it_was_and_is(
    signed_in: SignIn, writer: Member, crew: Member
) -> None:
    fields = {"role": "producer", "department": "production", "character": ""}
    response = signed_in(writer).post(role_of(writer, crew), fields, follow=True)
    assert "Bo Finch is Producer, Production now." in response.text
    crew.refresh_from_db()
    assert (crew.role, crew.department) == ("producer", "production")
    act = Act.objects.get(verb=Act.Verb.CHANGED_ROLE)
    assert act.details["changed"] == {"role": ["crew", "producer"], "department": ["camera", "production"]}
    assert act.address == "127.0.0.1"


@pytest.mark.parametrize(("field", "value"), [("role", "owner"), ("department", "catering"), ("role", "")])
def test_a_place_that_there_is_not_is_given_to_nobody(
    signed_in: SignIn, writer: Member, crew: Member, field: str, value: str
) -> None:
    fields = {"role": "crew", "department": "art", "character": ""} | {field: value}
    signed_in(writer).post(role_of(writer, crew), fields)
    crew.refresh_from_db()
    assert (crew.role, crew.department) == ("crew", "camera")


def test_the_last_writer_stays_a_writer(signed_in: SignIn, writer: Member) -> None:
    fields = {"role": "crew", "department": "art", "character": ""}
    response = signed_in(writer).post(role_of(writer, writer), fields, follow=True)
    assert "keeps at least one writer" in response.text
    writer.refresh_from_db()
    assert writer.role == Role.WRITER
    assert role_of(writer, writer) not in response.text, "nobody is offered what is refused"


def test_whoever_started_the_production_stays_a_writer_whatever_others_say(
    signed_in: SignIn, writer: Member, founder: Member
) -> None:
    fields = {"role": "crew", "department": "art", "character": ""}
    response = signed_in(writer).post(role_of(writer, founder), fields, follow=True)
    assert f"{founder.name} started this production" in response.text
    founder.refresh_from_db()
    assert founder.role == Role.WRITER


def test_whoever_began_as_the_writer_hands_that_over_beside_their_own_name(
    signed_in: SignIn, writer: Member, founder: Member
) -> None:
    assert role_of(writer, writer) in signed_in(writer).get(people_of(writer)).text
    client = signed_in(founder)
    page = BeautifulSoup(client.get(people_of(founder)).text, "html.parser")
    own = page.find("form", action=role_of(founder, founder))
    assert own is not None
    assert "Another writer can make you one again" in own.text
    assert page.find("form", action=remove(founder, founder)) is not None
    client.post(role_of(founder, founder), {"role": "producer", "department": "production", "character": ""})
    founder.refresh_from_db()
    assert founder.role == Role.PRODUCER


def test_whoever_becomes_a_writer_is_signed_in_by_nobody_s_link(writer: Member, crew: Member) -> None:
    link = acts.make_sign_in_link(writer, crew)
    acts.change_role(writer, crew, acts.RoleInProduction("writer", "writing", ""))
    with pytest.raises(acts.LinkRefused, match="withdrawn"):
        acts.find_sign_in_link(link, from_this_machine=False)


@pytest.mark.parametrize("role", [Role.PRODUCER, Role.CREW, Role.CAST])
def test_readers_change_nothing_here(signed_in: SignIn, writer: Member, crew: Member, role: Role) -> None:
    reader = make_member(writer.production, role, name="Reader")
    invitation, _ = acts.invite(writer, "Ida", "crew", "art", uuid.uuid4())
    withdraw = reverse("invitation-withdraw", args=[writer.production.public_id, invitation.public_id])
    client = signed_in(reader)
    for address in (invite_from(reader), withdraw, remove(reader, crew), link_for(reader, crew)):
        assert client.post(address, filled_in()).status_code == 403
    assert Invitation.objects.get().state == "open"
    assert not SignInLink.objects.exists()
    assert not Member.objects.exclude(removed_at=None).exists()


def test_it_asks_the_database_no_more_often_for_many_people(signed_in: SignIn, writer: Member) -> None:
    client = signed_in(writer)

    def queries() -> int:
        with CaptureQueriesContext(
            connection,
        ) as captured:
            client.get(people_of(writer))
        return len(captured)

    def add(people: int) -> None:
        for _ in range(people):
            make_member(writer.production)
            acts.invite(writer, "Ida", "crew", "art", uuid.uuid4())

    add(2)
    few = queries()
    add(20)
    assert queries() == few
