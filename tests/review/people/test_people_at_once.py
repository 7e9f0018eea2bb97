"""Letting people in and keeping them out, by two at the same moment."""

from __future__ import annotations

import uuid
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from typing import TYPE_CHECKING

import pytest
from django.core.exceptions import PermissionDenied
from django.db import connection

from review.access import Role
from review.log import Act
from review.people import acts
from review.people.models import Department, Invitation, Member, Person, SignInLink
from tests.factories import make_member

if TYPE_CHECKING:
    from collections.abc import Callable

pytestmark = pytest.mark.django_db(transaction=True)


def at_once(*deeds: Callable[[], object]) -> list[str]:
    """Does all at the same moment; tells of each, in order, whether it was "done" or how it was refused."""
    start = Barrier(len(deeds))

    def do(deed: Callable[[], object]) -> str:
        start.wait(timeout=10)
        try:
            deed()
        except (acts.Refused, PermissionDenied) as refusal:
            return str(refusal) or type(refusal).__name__
        finally:
            connection.close()
        return "done"

    with ThreadPoolExecutor(len(deeds)) as threads:
        return list(threads.map(do, deeds))


def test_of_two_writers_who_remove_each_other_one_stays(writer: Member) -> None:
    second = make_member(writer.production, Role.WRITER, Department.WRITING)
    outcomes = at_once(lambda: acts.remove_member(writer, second), lambda: acts.remove_member(second, writer))
    assert Member.objects.filter(role=Role.WRITER, removed_at=None).count() == 1
    assert sorted(outcomes) == ["Only a writer invites people and removes them.", "done"]


def test_a_form_sent_twice_invites_once(writer: Member) -> None:
    form_id = uuid.uuid4()

    def send() -> None:
        acts.invite(writer, "Noor", Role.CREW, Department.EDITING, form_id)

    assert at_once(send, send) == ["done", "done"]
    assert Invitation.objects.count() == Act.objects.filter(verb=Act.Verb.INVITED).count() == 1


def test_an_invitation_is_either_withdrawn_or_used(writer: Member) -> None:
    invitation, token = acts.invite(writer, "Noor", Role.CREW, Department.EDITING, uuid.uuid4())
    assert token
    _, accepted = at_once(
        lambda: acts.withdraw_invitation(writer, invitation),
        lambda: acts.accept_invitation(token, "Noor", "noor@example.org"),
    )
    invitation.refresh_from_db()
    is_in = Member.objects.filter(person__email="noor@example.org").exists()
    assert (accepted, invitation.state, is_in) in {("done", "used", True), ("withdrawn", "withdrawn", False)}
    assert (invitation.used_at is None) is not (invitation.withdrawn_at is None)
    assert Person.objects.filter(email="noor@example.org").exists() is is_in


def test_of_two_links_made_for_somebody_one_is_open(writer: Member, crew: Member) -> None:
    at_once(lambda: acts.make_sign_in_link(writer, crew), lambda: acts.make_sign_in_link(writer, crew))
    assert sorted(link.state for link in SignInLink.objects.all()) == ["open", "withdrawn"]


def test_two_with_one_address_by_two_invitations_are_one_person(writer: Member) -> None:
    tokens = [acts.invite(writer, "Noor", Role.CREW, Department.EDITING, uuid.uuid4())[1] or "" for _ in range(2)]
    outcomes = at_once(
        *[lambda token=token: acts.accept_invitation(token, "Noor", "noor@example.org") for token in tokens]
    )
    assert sorted(outcomes) == ["AddressTaken", "done"]
    assert sorted(invitation.state for invitation in Invitation.objects.all()) == ["open", "used"]


def test_nobody_who_is_removed_is_left_a_link_made_at_that_moment(writer: Member, crew: Member) -> None:
    second = make_member(writer.production, Role.WRITER, Department.WRITING)
    at_once(lambda: acts.remove_member(writer, crew), lambda: acts.make_sign_in_link(second, crew))
    assert not [link for link in SignInLink.objects.all() if link.state == "open"]


def test_invitations_fired_during_one_s_own_removal_leave_none_open(writer: Member) -> None:
    """Sixteen of them, from as many requests, each of which knows its writer from before the removal."""
    second = make_member(writer.production, Role.WRITER, Department.WRITING)
    asking = [Member.objects.get(pk=second.pk) for _ in range(16)]

    def invite(by: Member) -> Callable[[], object]:
        return lambda: acts.invite(by, "Myself", Role.WRITER, Department.WRITING, uuid.uuid4())

    outcomes = at_once(*map(invite, asking), lambda: acts.remove_member(writer, second))
    assert outcomes[-1] == "done"
    assert set(outcomes) <= {"done", "Only a writer invites people and removes them."}
    assert [invitation.state for invitation in Invitation.objects.all() if invitation.state == "open"] == []


def test_links_made_during_one_s_own_removal_leave_none_open(writer: Member, crew: Member) -> None:
    second = make_member(writer.production, Role.WRITER, Department.WRITING)
    asking = [Member.objects.get(pk=second.pk) for _ in range(8)]

    def link(by: Member) -> Callable[[], object]:
        return lambda: acts.make_sign_in_link(by, crew)

    at_once(*map(link, asking), lambda: acts.remove_member(writer, second))
    assert [link for link in SignInLink.objects.filter(made_by=second) if link.state == "open"] == []


def test_nobody_comes_in_by_an_invitation_while_its_writer_is_removed(writer: Member) -> None:
    second = make_member(writer.production, Role.WRITER, Department.WRITING)
    _, token = acts.invite(second, "Noor", Role.WRITER, Department.WRITING, uuid.uuid4())
    _, accepted = at_once(
        lambda: acts.remove_member(writer, second),
        lambda: acts.accept_invitation(token or "", "Noor", "noor@example.org"),
    )
    removed_at = Member.objects.get(pk=second.pk).removed_at
    came_in = Member.objects.filter(person__email="noor@example.org").first()
    assert removed_at
    assert (accepted == "done") == bool(came_in)
    assert not came_in or came_in.created_at <= removed_at


def test_of_two_writers_who_make_each_other_readers_one_stays(writer: Member) -> None:
    second = make_member(writer.production, Role.WRITER, Department.WRITING)
    reader = acts.RoleInProduction(Role.CREW, Department.ART, "")
    at_once(lambda: acts.change_role(writer, second, reader), lambda: acts.change_role(second, writer, reader))
    assert Member.objects.filter(role=Role.WRITER, removed_at=None).count() == 1
