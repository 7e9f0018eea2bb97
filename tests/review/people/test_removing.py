"""Who is removed from a production, by whom, and that nobody removed comes back."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from django.urls import reverse

from review.log import Act
from review.people import acts
from review.people.models import Member, SignInLink
from tests.review.people.people_steps import people_of, remove

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


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


def test_whoever_started_the_production_is_removed_by_nobody_else(
    signed_in: SignIn, writer: Member, founder: Member
) -> None:
    client = signed_in(writer)
    assert remove(writer, founder) not in client.get(people_of(writer)).text
    response = client.post(remove(writer, founder), follow=True)
    assert f"{founder.name} started this production" in response.text
    assert signed_in(founder).get(people_of(founder)).status_code == 200


def test_whoever_started_the_production_may_go_themselves(signed_in: SignIn, writer: Member, founder: Member) -> None:
    signed_in(founder).post(remove(founder, founder))
    founder.refresh_from_db()
    assert founder.removed_at


def test_whoever_is_no_writer_any_more_has_nobody_come_in(writer: Member, second_writer: Member, crew: Member) -> None:
    _, invitation = acts.invite(second_writer, "Ida", "crew", "art", uuid.uuid4())
    link = acts.make_sign_in_link(second_writer, crew)
    acts.change_role(writer, second_writer, acts.RoleInProduction("crew", "art", ""))
    with pytest.raises(acts.LinkRefused, match="withdrawn"):
        acts.find_invitation(invitation or "")
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
