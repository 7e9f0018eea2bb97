"""The People screen, and the writer's ways to let people in and keep them out."""

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
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from review.log import Act
from review.people import acts
from review.people.models import Department, Invitation, Member, Role, SignInLink, hash_token
from tests.factories import make_draft, make_member, make_note, make_person, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.http import HttpResponse

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


def address(name: str, member: Member, *more: str) -> str:
    return reverse(name, args=[member.production.public_id, *more])


def filled_in(**instead: str) -> dict[str, str]:
    told = {"name": "Noor Halloran", "role": "crew", "department": "editing", "form_id": str(uuid.uuid4())}
    return told | instead


def link_shown(response: HttpResponse) -> str:
    field = BeautifulSoup(response.text, "html.parser").select_one("#fresh-link")
    assert field is not None
    return str(field["value"])


def make_invitation(writer: Member, name: str = "Noor") -> Invitation:
    return acts.invite(writer, name, Role.CREW, Department.EDITING, uuid.uuid4())[0]


# The screen


def test_it_shows_who_is_in_with_role_and_department(signed_in: SignIn, writer: Member, crew: Member) -> None:
    gone = make_member(writer.production, name="Rook Tamsin")
    acts.remove_member(writer, gone)
    page = signed_in(crew).get(address("people", writer)).text
    for said in ("Ada Wren", "Bo Finch", "Crew · Camera", "2 people can open this production"):
        assert said in page
    assert "Rook Tamsin" not in page


def test_readers_see_no_invitation_and_no_way_to_let_people_in(signed_in: SignIn, writer: Member, crew: Member) -> None:
    make_invitation(writer, "Wick Sandover")
    page = BeautifulSoup(signed_in(crew).get(address("people", writer)).text, "html.parser")
    assert "Wick Sandover" not in page.text
    assert not page.select("main form")


def test_nobody_sees_anothers_address(signed_in: SignIn, writer: Member, crew: Member) -> None:
    assert crew.person.email not in signed_in(writer).get(address("people", writer)).text


def test_the_writer_sees_every_invitation_with_its_state(signed_in: SignIn, writer: Member) -> None:
    for name in ("Opened", "Expired One", "Withdrawn One", "Used One"):
        make_invitation(writer, name)
    Invitation.objects.filter(name="Expired One").update(expires_at=timezone.now() - timedelta(minutes=1))
    Invitation.objects.filter(name="Withdrawn One").update(withdrawn_at=timezone.now())
    Invitation.objects.filter(name="Used One").update(used_at=timezone.now())
    page = BeautifulSoup(signed_in(writer).get(address("people", writer)).text, "html.parser")
    past = [
        (row.text.split(" · ")[0].strip(), row.select(".tag")[0].text) for row in page.select("details li.people-row")
    ]
    assert sorted(past) == [("Expired One", "expired"), ("Used One", "used"), ("Withdrawn One", "withdrawn")]
    to_withdraw = [row.text for row in page.select("li.people-row:has(form)")]
    assert len(to_withdraw) == 1
    assert "Opened" in to_withdraw[0]


def test_it_asks_the_database_as_often_for_many_as_for_few(signed_in: SignIn, writer: Member) -> None:
    client = signed_in(writer)

    def queries() -> int:
        with CaptureQueriesContext(connection) as asked:
            client.get(address("people", writer))
        return len(asked)

    make_member(writer.production)
    make_invitation(writer)
    few = queries()
    for _ in range(20):
        make_member(writer.production)
        make_invitation(writer)
    assert queries() == few


# Inviting


def test_the_writer_invites_and_gets_a_link_that_opens(signed_in: SignIn, writer: Member) -> None:
    response = signed_in(writer).post(address("invite", writer), filled_in())
    assert response.status_code == 200
    link = link_shown(response)
    assert link.startswith("http://testserver/join/")
    assert "expires in 14 days" in response.text
    invitation = Invitation.objects.get()
    assert (invitation.name, invitation.role, invitation.department) == ("Noor Halloran", "crew", "editing")
    assert timedelta(days=13) < invitation.expires_at - timezone.now() <= timedelta(days=14)
    assert Client().get(link).status_code == 200
    assert Act.objects.get(verb=Act.Verb.INVITED).about == invitation.public_id


def test_the_link_is_shown_once_and_kept_by_no_cache(signed_in: SignIn, writer: Member) -> None:
    client = signed_in(writer)
    response = client.post(address("invite", writer), filled_in())
    token = link_shown(response).split("/")[-2]
    assert "no-store" in response.headers["Cache-Control"]
    assert response.headers["Referrer-Policy"] == "strict-origin"
    assert token not in client.get(address("people", writer)).text
    assert Invitation.objects.get().token_hash == hash_token(token)
    assert len(token) >= 43  # 256 bits in base64
    for model in (Invitation, Act):
        assert token not in str(list(model.objects.values()))


def test_the_same_form_sent_twice_invites_once_and_says_so(signed_in: SignIn, writer: Member) -> None:
    client, form = signed_in(writer), filled_in()
    client.post(address("invite", writer), form)
    response = client.post(address("invite", writer), form, follow=True)
    assert "was invited by this form already" in response.text
    assert Invitation.objects.count() == Act.objects.filter(verb=Act.Verb.INVITED).count() == 1


@pytest.mark.parametrize("instead", [{"name": " "}, {"role": "king"}, {"department": ""}, {"form_id": "x"}])
def test_a_mistake_keeps_what_was_typed(signed_in: SignIn, writer: Member, instead: dict[str, str]) -> None:
    response = signed_in(writer).post(address("invite", writer), filled_in(**instead))
    assert response.status_code == 422
    assert "Noor Halloran" in response.text or "name" in instead
    assert not Invitation.objects.exists()


def test_readers_may_not_invite(signed_in: SignIn, crew: Member, cast: Member) -> None:
    for reader in (crew, cast):
        assert signed_in(reader).post(address("invite", reader), filled_in()).status_code == 403
    assert not Invitation.objects.exists()


@pytest.mark.django_db(transaction=True)
def test_a_form_sent_twice_at_the_same_moment_invites_once(postgres_url: str, writer: Member) -> None:
    at_once, form_id = Barrier(2), uuid.uuid4()

    def send(_: int) -> bool:
        at_once.wait(timeout=10)
        try:
            return acts.invite(writer, "Noor", Role.CREW, Department.EDITING, form_id)[1] is not None
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as threads:
        assert sorted(threads.map(send, range(2))) == [False, True]
    assert Invitation.objects.count() == 1


# Withdrawing


def test_a_withdrawn_invitation_lets_nobody_in(signed_in: SignIn, writer: Member) -> None:
    invitation, token = acts.invite(writer, "Noor", Role.CREW, Department.EDITING, uuid.uuid4())
    response = signed_in(writer).post(address("invitation-withdraw", writer, invitation.public_id), follow=True)
    assert "The invitation for Noor no longer lets anyone in" in response.text
    assert Client().get(reverse("join", args=[token])).status_code == 410
    assert Act.objects.filter(verb=Act.Verb.WITHDREW_INVITATION, about=invitation.public_id).count() == 1


def test_withdrawing_a_used_one_changes_nothing(signed_in: SignIn, writer: Member) -> None:
    invitation = make_invitation(writer)
    Invitation.objects.update(used_at=timezone.now())
    signed_in(writer).post(address("invitation-withdraw", writer, invitation.public_id))
    invitation.refresh_from_db()
    assert (invitation.state, invitation.withdrawn_at) == ("used", None)


# Removing


def test_someone_removed_opens_nothing_and_what_they_wrote_stays(
    signed_in: SignIn, writer: Member, crew: Member
) -> None:
    note, theirs = make_note(crew, make_draft(writer), body="Let it rain."), signed_in(crew)
    response = signed_in(writer).post(address("member-remove", writer, crew.public_id), follow=True)
    assert "Bo Finch can no longer open this production. What they wrote stays." in response.text
    assert theirs.get(address("home", writer)).status_code == 404
    assert address("home", writer) not in theirs.get(reverse("productions")).text
    assert "Let it rain." in signed_in(writer).get(address("note", writer, note.public_id)).text
    assert Act.objects.filter(verb=Act.Verb.REMOVED_MEMBER, about=crew.public_id).count() == 1


def test_removing_takes_away_every_link_that_would_let_them_back(
    signed_in: SignIn, writer: Member, crew: Member
) -> None:
    token = acts.make_sign_in_link(writer, crew)
    signed_in(writer).post(address("member-remove", writer, crew.public_id))
    assert Client().post(reverse("sign-in-link", args=[token])).status_code == 410


def test_removing_twice_is_removing_once(writer: Member, crew: Member) -> None:
    for _ in range(2):
        acts.remove_member(writer, crew)
    assert Act.objects.filter(verb=Act.Verb.REMOVED_MEMBER).count() == 1


def test_a_production_keeps_a_writer(signed_in: SignIn, writer: Member) -> None:
    response = signed_in(writer).post(address("member-remove", writer, writer.public_id), follow=True)
    assert "A production keeps at least one writer" in response.text
    writer.refresh_from_db()
    assert writer.removed_at is None


def test_a_writer_may_leave_to_another(signed_in: SignIn, writer: Member) -> None:
    make_member(writer.production, Role.WRITER, Department.WRITING)
    response = signed_in(writer).post(address("member-remove", writer, writer.public_id))
    assert response.headers["Location"] == reverse("productions")
    writer.refresh_from_db()
    assert writer.removed_at is not None


def test_a_removed_writer_is_none_that_the_production_keeps(writer: Member) -> None:
    second = make_member(writer.production, Role.WRITER, Department.WRITING)
    acts.remove_member(writer, second)
    with pytest.raises(acts.Refused, match="at least one writer"):
        acts.remove_member(writer, writer)


@pytest.mark.django_db(transaction=True)
def test_of_two_writers_who_remove_each_other_at_the_same_moment_one_stays(postgres_url: str, writer: Member) -> None:
    second, at_once = make_member(writer.production, Role.WRITER, Department.WRITING), Barrier(2)

    def remove(pair: tuple[Member, Member]) -> None:
        at_once.wait(timeout=10)
        try:
            acts.remove_member(*pair)
        except acts.Refused:
            pass
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as threads:
        list(threads.map(remove, [(writer, second), (second, writer)]))
    assert Member.objects.filter(role=Role.WRITER, removed_at=None).count() == 1


# A link for somebody who lost their way back


def test_the_writer_makes_a_link_that_signs_a_reader_in_once(signed_in: SignIn, writer: Member, crew: Member) -> None:
    response = signed_in(writer).post(address("member-sign-in-link", writer, crew.public_id))
    assert "expires in 24 hours" in response.text
    assert "no-store" in response.headers["Cache-Control"]
    client = Client()
    client.post(link_shown(response))
    assert client.session["_auth_user_id"] == str(crew.person.pk)
    assert Client().post(link_shown(response)).status_code == 410
    assert Act.objects.get(verb=Act.Verb.MADE_SIGN_IN_LINK).details == {"name": "Bo Finch"}


def test_a_newer_link_takes_the_place_of_the_one_before(writer: Member, crew: Member) -> None:
    old, new = (acts.make_sign_in_link(writer, crew) for _ in range(2))
    assert SignInLink.objects.get(token_hash=hash_token(old)).state == "withdrawn"
    assert SignInLink.objects.get(token_hash=hash_token(new)).state == "open"


def refused(signed_in: SignIn, writer: Member, other: Member) -> bool:
    """Whether the writer is refused a link for someone, and is not offered it either."""
    client = signed_in(writer)
    offered = address("member-sign-in-link", writer, other.public_id) in client.get(address("people", writer)).text
    response = client.post(address("member-sign-in-link", writer, other.public_id), follow=True)
    assert ("would open more than this production" in response.text) is not offered
    assert SignInLink.objects.filter(person=other.person).exists() is offered
    return not offered


def test_no_writer_reaches_through_a_link_what_they_could_not_see(
    signed_in: SignIn, writer: Member, crew: Member
) -> None:
    assert not refused(signed_in, writer, crew)
    assert refused(signed_in, writer, make_member(writer.production, Role.WRITER, Department.WRITING))
    founder = make_member(writer.production, person=make_person("Fern", starts_productions=True))
    assert refused(signed_in, writer, founder)
    elsewhere = make_member(writer.production, name="Elsewhere too")
    make_member(make_production("Ebb"), person=elsewhere.person)
    assert refused(signed_in, writer, elsewhere)


def test_a_link_is_made_for_someone_in_two_productions_of_the_same_writer(
    signed_in: SignIn, writer: Member, crew: Member
) -> None:
    second = make_production("Ebb")
    make_member(second, person=crew.person)
    make_member(second, Role.CREW, person=writer.person)
    assert refused(signed_in, writer, crew)  # in the second the writer only reads
    Member.objects.filter(production=second, person=writer.person).update(role=Role.WRITER)
    assert not refused(signed_in, writer, crew)


def test_where_somebody_was_removed_their_notes_are_still_theirs_alone(
    signed_in: SignIn, writer: Member, crew: Member
) -> None:
    make_member(make_production("Ebb"), person=crew.person)
    Member.objects.filter(person=crew.person).exclude(pk=crew.pk).update(removed_at=timezone.now())
    assert refused(signed_in, writer, crew)


def test_a_link_made_before_somebody_joins_another_production_opens_it_to_nobody(writer: Member, crew: Member) -> None:
    token = acts.make_sign_in_link(writer, crew)
    other = make_member(make_production("Ebb"), Role.WRITER)
    _, invitation = acts.invite(other, "Bo", Role.CREW, Department.CAMERA, uuid.uuid4())
    assert invitation
    acts.join_as(crew.person, invitation)
    assert Client().post(reverse("sign-in-link", args=[token])).status_code == 410


def test_readers_may_make_no_link(signed_in: SignIn, crew: Member, cast: Member) -> None:
    assert signed_in(crew).post(address("member-sign-in-link", crew, cast.public_id)).status_code == 403
    assert not SignInLink.objects.exists()
