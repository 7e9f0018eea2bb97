"""The People screen, and what a writer does there."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any
from urllib.parse import parse_qs, urlsplit

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
from tests.factories import make_draft, make_member, make_person, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


@pytest.fixture
def second_writer(writer: Member) -> Member:
    return make_member(writer.production, Role.WRITER, Department.DIRECTION, "Edda Holm")


def people_of(member: Member) -> str:
    return reverse("people", args=[member.production.public_id])


def invite_from(member: Member) -> str:
    return reverse("invite", args=[member.production.public_id])


def remove(by: Member, other: Member) -> str:
    return reverse("member-remove", args=[by.production.public_id, other.public_id])


def link_for(by: Member, other: Member) -> str:
    return reverse("member-sign-in-link", args=[by.production.public_id, other.public_id])


def filled_in(**fields: Any) -> dict[str, Any]:
    return {"form_id": str(uuid.uuid4()), "name": "Sunniva Grey", "role": "crew", "department": "lighting"} | fields


def fresh_link(page: str) -> str:
    field = BeautifulSoup(page, "html.parser").select_one("#fresh-link")
    return str(field["value"]) if field else ""


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


def test_someone_removed_can_open_nothing_and_what_they_wrote_stays(
    signed_in: SignIn, writer: Member, crew: Member
) -> None:
    client = signed_in(crew)
    response = signed_in(writer).post(remove(writer, crew), follow=True)
    assert "Bo Finch can no longer open this production." in response.text
    assert client.get(people_of(crew)).status_code == 404
    crew.refresh_from_db()
    assert crew.removed_at is not None
    assert Act.objects.get().verb == Act.Verb.REMOVED_MEMBER


def test_removing_twice_is_logged_once(writer: Member, crew: Member) -> None:
    for _ in range(2):
        acts.remove_member(writer, crew)
    assert Act.objects.count() == 1


def test_the_last_writer_stays(signed_in: SignIn, writer: Member, crew: Member) -> None:
    response = signed_in(writer).post(remove(writer, writer), follow=True)
    assert "keeps at least one writer" in response.text
    writer.refresh_from_db()
    assert writer.removed_at is None


def test_a_writer_can_leave_when_another_stays(signed_in: SignIn, writer: Member, second_writer: Member) -> None:
    response = signed_in(writer).post(remove(writer, writer))
    assert response.headers["Location"] == reverse("productions")
    with pytest.raises(acts.Refused):
        acts.remove_member(second_writer, second_writer)


def test_a_writer_who_is_removed_cannot_come_back_by_an_invitation_they_kept(
    writer: Member, second_writer: Member
) -> None:
    _, kept = acts.invite(second_writer, "Myself", "writer", "writing", uuid.uuid4())
    _, other = acts.invite(writer, "Ida", "crew", "art", uuid.uuid4())
    acts.remove_member(writer, second_writer)
    with pytest.raises(acts.LinkRefused, match="withdrawn"):
        acts.find_invitation(kept or "")
    assert acts.find_invitation(other or "").name == "Ida"


def test_removing_someone_withdraws_the_link_that_was_made_for_them(writer: Member, crew: Member) -> None:
    acts.make_sign_in_link(writer, crew)
    acts.remove_member(writer, crew)
    assert SignInLink.objects.get().state == "withdrawn"


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


def test_an_invitation_says_whom_one_of_the_cast_plays(signed_in: SignIn, writer: Member) -> None:
    fields = filled_in(role="cast", department="cast", character="  NELL  BRIGHT ")
    link = fresh_link(signed_in(writer).post(invite_from(writer), fields).text)
    member = acts.accept_invitation(link.rstrip("/").rpartition("/")[2], "Sunniva Grey", "sunniva@example.org")
    assert member.character == "NELL BRIGHT"
    page = signed_in(member).get(people_of(member)).text
    assert "plays NELL BRIGHT" in page


def place(by: Member, other: Member) -> str:
    return reverse("member-place", args=[by.production.public_id, other.public_id])


def test_a_writer_says_whom_one_of_the_cast_plays_and_it_is_logged_once(
    signed_in: SignIn, writer: Member, cast: Member
) -> None:
    for _ in range(2):
        signed_in(writer).post(place(writer, cast), {"role": "cast", "department": "cast", "character": " TOBIAS "})
    cast.refresh_from_db()
    assert cast.character == "TOBIAS"
    assert [act.verb for act in Act.objects.filter(production=writer.production)] == [Act.Verb.NAMED_CHARACTER]


def test_a_name_too_long_for_a_character_changes_nothing(signed_in: SignIn, writer: Member, cast: Member) -> None:
    fields = {"role": "cast", "department": "cast", "character": "N" * 121}
    response = signed_in(writer).post(place(writer, cast), fields, follow=True)
    assert "120 letters at most" in response.text
    cast.refresh_from_db()
    assert cast.character == ""


def test_a_writer_changes_a_role_and_a_department_and_it_is_logged_as_it_was_and_is(
    signed_in: SignIn, writer: Member, crew: Member
) -> None:
    fields = {"role": "producer", "department": "production", "character": ""}
    response = signed_in(writer).post(place(writer, crew), fields, follow=True)
    assert "Bo Finch is Producer, Production now." in response.text
    crew.refresh_from_db()
    assert (crew.role, crew.department) == ("producer", "production")
    act = Act.objects.get(verb=Act.Verb.CHANGED_PLACE)
    assert act.details["changed"] == {"role": ["crew", "producer"], "department": ["camera", "production"]}
    assert act.address == "127.0.0.1"


@pytest.mark.parametrize(("field", "value"), [("role", "owner"), ("department", "catering"), ("role", "")])
def test_a_place_that_there_is_not_is_given_to_nobody(
    signed_in: SignIn, writer: Member, crew: Member, field: str, value: str
) -> None:
    fields = {"role": "crew", "department": "art", "character": ""} | {field: value}
    signed_in(writer).post(place(writer, crew), fields)
    crew.refresh_from_db()
    assert (crew.role, crew.department) == ("crew", "camera")


def test_the_last_writer_stays_a_writer(signed_in: SignIn, writer: Member) -> None:
    fields = {"role": "crew", "department": "art", "character": ""}
    response = signed_in(writer).post(place(writer, writer), fields, follow=True)
    assert "keeps at least one writer" in response.text
    writer.refresh_from_db()
    assert writer.role == Role.WRITER


@pytest.fixture
def founder(writer: Member) -> Member:
    """Whoever started the production."""
    return make_member(writer.production, Role.WRITER, Department.WRITING, person=writer.production.started_by)


def test_whoever_started_the_production_is_removed_by_nobody_else(
    signed_in: SignIn, writer: Member, founder: Member
) -> None:
    client = signed_in(writer)
    assert remove(writer, founder) not in client.get(people_of(writer)).text
    response = client.post(remove(writer, founder), follow=True)
    assert f"{founder.name} started this production" in response.text
    assert signed_in(founder).get(people_of(founder)).status_code == 200


def test_whoever_started_the_production_stays_a_writer_whatever_others_say(
    signed_in: SignIn, writer: Member, founder: Member
) -> None:
    fields = {"role": "crew", "department": "art", "character": ""}
    response = signed_in(writer).post(place(writer, founder), fields, follow=True)
    assert f"{founder.name} started this production" in response.text
    founder.refresh_from_db()
    assert founder.role == Role.WRITER


def test_whoever_started_the_production_may_go_themselves(signed_in: SignIn, writer: Member, founder: Member) -> None:
    signed_in(founder).post(remove(founder, founder))
    founder.refresh_from_db()
    assert founder.removed_at


def test_whoever_is_no_writer_any_more_has_nobody_come_in(writer: Member, second_writer: Member, crew: Member) -> None:
    _, invitation = acts.invite(second_writer, "Ida", "crew", "art", uuid.uuid4())
    link = acts.make_sign_in_link(second_writer, crew)
    acts.change_place(writer, second_writer, acts.PlaceInProduction("crew", "art", ""))
    with pytest.raises(acts.LinkRefused, match="withdrawn"):
        acts.find_invitation(invitation or "")
    with pytest.raises(acts.LinkRefused, match="withdrawn"):
        acts.find_sign_in_link(link, from_this_machine=False)


def test_whoever_becomes_a_writer_is_signed_in_by_nobody_s_link(writer: Member, crew: Member) -> None:
    link = acts.make_sign_in_link(writer, crew)
    acts.change_place(writer, crew, acts.PlaceInProduction("writer", "writing", ""))
    with pytest.raises(acts.LinkRefused, match="withdrawn"):
        acts.find_sign_in_link(link, from_this_machine=False)


def test_an_invitation_in_the_name_of_someone_removed_is_withdrawn_with_them(writer: Member, crew: Member) -> None:
    _, theirs = acts.invite(writer, "bo finch", "crew", "camera", uuid.uuid4())
    _, another = acts.invite(writer, "Ida", "crew", "camera", uuid.uuid4())
    acts.remove_member(writer, crew)
    with pytest.raises(acts.LinkRefused, match="withdrawn"):
        acts.find_invitation(theirs or "")
    assert acts.find_invitation(another or "")


def test_someone_removed_comes_back_by_no_invitation_from_before_and_by_one_made_after(
    signed_in: SignIn, writer: Member, crew: Member
) -> None:
    _, before = acts.invite(writer, "Ida", "crew", "camera", uuid.uuid4())
    client = signed_in(crew)
    acts.remove_member(writer, crew)
    assert client.post(reverse("join", args=[before])).status_code == 410
    assert client.get(people_of(crew)).status_code == 404
    _, after = acts.invite(writer, "Bo Finch", "crew", "camera", uuid.uuid4())
    assert client.post(reverse("join", args=[after])).status_code == 302
    assert client.get(people_of(crew)).status_code == 200


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
