"""Links that sign somebody in again: made by a writer for a reader who lost their way back."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.utils import timezone

from review import log
from review.access import Deed, Role
from review.log import Act
from review.people.acts.refusals import LinkRefused, Refused
from review.people.models import SIGN_IN_LINK_LASTS, Member, Person, SignInLink, hash_token, new_token
from review.productions.models import lock_for
from review.serving.addresses import asked_from

if TYPE_CHECKING:
    from django.db import models


def members_to_make_links_for(by: Member) -> frozenset[int]:
    """The ids of the members for whom this writer may make a link that signs them in.

    It is made only for readers, and only where every production they are in, or were in, is one that this writer is a
    writer of: nobody reaches through a colleague's account what they could not see by their own.
    """
    mine = Member.objects.filter(person=by.person, role=Role.WRITER, removed_at=None).values("production")
    beyond = Member.objects.exclude(production__in=mine).values("person")
    readers = by.production.members.filter(removed_at=None, person__starts_productions=False)
    return frozenset(readers.exclude(role=Role.WRITER).exclude(person__in=beyond).values_list("pk", flat=True))


@transaction.atomic
def make_sign_in_link(by: Member, member: Member) -> str:
    """A token that signs the member in once, within 24 hours; links made for them earlier are withdrawn."""
    production = lock_for(by, Deed.INVITE)
    if member.production_id != production.pk:
        raise PermissionDenied("They are in another production.")
    withdraw_sign_in_links(member.person)
    if member.pk not in members_to_make_links_for(by):
        raise Refused(f"A link for {member.name} would open more than this production, so nobody else can make one.")
    link, token = _new_link(member.person, by)
    log.record(by.person, Act.Verb.MADE_SIGN_IN_LINK, production, link.public_id, name=member.name)
    return token


@transaction.atomic
def make_link_at_terminal(person: Person) -> str:
    """A token that signs somebody in once, within 24 hours, with all that is theirs, also whom the server's keeper had
    shut out: for whoever runs the server."""
    person = Person.objects.select_for_update(no_key=True).get(pk=person.pk)
    if not person.is_active:
        person.is_active = True
        person.save(update_fields=["is_active"])
    link, token = _new_link(person, None)
    log.record(person, Act.Verb.MADE_SIGN_IN_LINK, None, link.public_id)
    return token


def _new_link(person: Person, made_by: Member | None) -> tuple[SignInLink, str]:
    token = new_token()
    expires_at = timezone.now() + SIGN_IN_LINK_LASTS
    link = SignInLink.objects.create(
        person=person, made_by=made_by, token_hash=hash_token(token), expires_at=expires_at
    )
    return link, token


def withdraw_sign_in_links(person: Person) -> None:
    """Withdraw what signs this person in from anywhere; links of this machine's own terminal stay.

    Until the transaction ends nobody else makes or withdraws one for them. An act that also locks an invitation does so
    before this, and touches the membership after it, so that no two acts wait for each other.
    """
    Person.objects.select_for_update(no_key=True).get(pk=person.pk)
    links = SignInLink.objects.filter(person=person, local_only=False, used_at=None, withdrawn_at=None)
    links.update(withdrawn_at=timezone.now())


def end_link_sessions(person: Person) -> None:
    """End what others' links have begun in this person's name."""
    begun = SignInLink.objects.filter(person=person, ended_at=None).exclude(used_at=None).exclude(made_by=None)
    begun.update(ended_at=timezone.now())


def find_sign_in_link(token: str, *, from_this_machine: bool, lock: bool = False) -> SignInLink:
    """The open link of a token. Raises LinkRefused: unknown, used, expired, withdrawn, or elsewhere than it works."""
    found = SignInLink.objects.select_related("person", "made_by__person", "made_by__production")
    if lock:
        found = found.select_for_update(of=("self",))
    link = found.filter(token_hash=hash_token(token)).first()
    if link is None or not link.person.is_active:
        raise LinkRefused("unknown")
    if link.local_only and not from_this_machine:
        raise LinkRefused("elsewhere")
    if link.state != "open":
        raise LinkRefused(link.state)
    return link


@transaction.atomic
def use_sign_in_link(token: str, *, from_this_machine: bool) -> SignInLink:
    """The link, by which its person is to be signed in; a single use is used up by this. Raises LinkRefused."""
    link = find_sign_in_link(token, from_this_machine=from_this_machine, lock=True)
    link.used_at, link.used_from = timezone.now(), asked_from() or None
    link.save(update_fields=["used_at", "used_from"])
    told = {"made_by": link.made_by.name if link.made_by else ""}
    production = link.made_by.production if link.made_by else None
    log.record(link.person, Act.Verb.USED_SIGN_IN_LINK, production, link.public_id, **told)
    return link


@transaction.atomic
def shut_links(person: Person) -> None:
    """Withdraw what others made to sign this person in, and end what it has begun: as they themselves want it."""
    withdraw_sign_in_links(person)
    end_link_sessions(person)


@transaction.atomic
def acknowledge_links(person: Person) -> None:
    """Note that somebody has read which links others made in their name."""
    links_to_tell_of(person).update(told_at=timezone.now())


def links_to_tell_of(person: Person) -> models.QuerySet[SignInLink]:
    """The links that others made to sign this person in, and that they were not told of yet; the latest first."""
    links = SignInLink.objects.filter(person=person, told_at=None).exclude(made_by=None).order_by("-created_at")
    return links.select_related("made_by__person", "made_by__production")
