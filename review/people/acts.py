"""What lets people in and keeps them out: setup, invitations, membership, and links to sign in again."""

from __future__ import annotations

import hmac
import secrets
import uuid

from django.db import IntegrityError, transaction
from django.utils import timezone

from review import log
from review.access import Role
from review.log import Act
from review.people.models import (
    INVITATION_LASTS,
    SIGN_IN_LINK_LASTS,
    Invitation,
    Member,
    Person,
    SetupCode,
    SignInLink,
    hash_token,
    new_token,
)
from review.productions.models import Production, start_production

CODE_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"  # none that is easily taken for another
CODE_GROUPS, CODE_GROUP_LENGTH = 3, 4  # 60 random bits

WRONG_CODE = "That is not the code. It stands in the terminal where the server was started, in the last lines."


class Refused(Exception):  # noqa: N818 - it states what happened
    """Something cannot be done; the message says why and what to do, for the person who tried."""


class LinkRefused(Refused):
    """A link does not let anyone in. `state` is one of unknown, used, expired, withdrawn or elsewhere."""

    def __init__(self, state: str) -> None:
        super().__init__(state)
        self.state = state


class AddressTaken(Refused):
    """The e-mail address belongs to a person who is already here, and who has to sign in to use it."""


class AlreadyMember(Refused):
    """The person is in the production already; their invitation stays unused."""


# Setup


def new_setup_code() -> str:
    """A one-time code for the first writer's setup; codes made earlier are void. Only its hash is kept."""
    groups = ("".join(secrets.choice(CODE_LETTERS) for _ in range(CODE_GROUP_LENGTH)) for _ in range(CODE_GROUPS))
    code = "-".join(groups)
    with transaction.atomic():
        SetupCode.objects.all().delete()
        SetupCode.objects.create(code_hash=_hash_code(code))
    return code


def _hash_code(code: str) -> str:
    return hash_token("".join(code.split()).replace("-", "").upper())


def check_setup_code(code: str) -> None:
    """Refused unless this is the code that was printed last; a wrong try counts as it does in setting up."""
    with transaction.atomic():
        current = _count_try(code)
    if current is None:
        raise Refused(WRONG_CODE)


def set_up_first_writer(code: str, name: str, email: str, password: str, title: str) -> Production:
    """Make the first person, who may start productions, and their production.

    Refused if somebody is here already, and unless this is the code that was printed last. A wrong try is counted, and
    too many make the code void. The code is locked for the while, so that of two at once one is the first.
    """
    with transaction.atomic():
        current = _count_try(code)
        if current:
            current.used_at = timezone.now()
            current.save(update_fields=["used_at"])
            person = Person.objects.create_user(email, name, password, starts_productions=True)
            return start_production(person, title, uuid.uuid4())
    raise Refused(WRONG_CODE)


def _count_try(code: str) -> SetupCode | None:
    """The code's record, locked, if it is the one that was printed last; else None, and the wrong try is counted."""
    current = SetupCode.objects.select_for_update().filter(used_at=None).order_by("-id").first()
    if Person.objects.exists():
        raise Refused("This server has been set up already: sign in instead.")
    if current is None or current.wrong_tries >= SetupCode.MOST_TRIES:
        raise Refused("This code no longer counts. Stop the server and start it again: it prints a new one.")
    if hmac.compare_digest(current.code_hash, _hash_code(code)):
        return current
    current.wrong_tries += 1
    current.save(update_fields=["wrong_tries"])
    return None


# Invitations


@transaction.atomic
def invite(
    by: Member, name: str, role: str, department: str, form_id: uuid.UUID, character: str = ""
) -> tuple[Invitation, str | None]:
    """An invitation and its token, which is known only now. The same form again gives the first, without a token."""
    token = new_token()
    told = {"invited_by": by, "name": name.strip(), "role": role, "department": department, "character": character}
    made_now = {
        "production": by.production,
        "token_hash": hash_token(token),
        "expires_at": timezone.now() + INVITATION_LASTS,
    }
    invitation, made = Invitation.objects.get_or_create(form_id=form_id, defaults=told | made_now)
    if not made:
        if all(getattr(invitation, field) == value for field, value in told.items()):
            return invitation, None
        invitation = Invitation.objects.create(**told, **made_now)  # that form id said something else
    log.record(
        by.person,
        Act.Verb.INVITED,
        by.production,
        invitation.public_id,
        name=invitation.name,
        role=invitation.role,
        department=invitation.department,
    )
    return invitation, token


@transaction.atomic
def withdraw_invitation(by: Member, invitation: Invitation) -> None:
    """Withdraw an open invitation; one that is used, withdrawn or expired stays as it is."""
    invitation = Invitation.objects.select_for_update().get(pk=invitation.pk)
    if invitation.state != "open":
        return
    invitation.withdrawn_at = timezone.now()
    invitation.save(update_fields=["withdrawn_at"])
    log.record(by.person, Act.Verb.WITHDREW_INVITATION, by.production, invitation.public_id, name=invitation.name)


def find_invitation(token: str, *, lock: bool = False) -> Invitation:
    """The open invitation of a token. Raises LinkRefused: unknown, used, expired or withdrawn."""
    found = Invitation.objects.select_related("production", "invited_by__person")
    if lock:
        found = found.select_for_update(of=("self",))
    invitation = found.filter(token_hash=hash_token(token)).first()
    if invitation is None:
        raise LinkRefused("unknown")
    if invitation.state != "open":
        raise LinkRefused(invitation.state)
    return invitation


@transaction.atomic
def accept_invitation(token: str, name: str, email: str, password: str | None = None) -> Member:
    """Make a new person of an invitation and let them in. Raises LinkRefused, or AddressTaken by someone else."""
    invitation = find_invitation(token, lock=True)
    try:
        with transaction.atomic():
            person = Person.objects.create_user(email, name, password)
    except IntegrityError:
        raise AddressTaken from None
    return _let_in(person, invitation)


@transaction.atomic
def join_as(person: Person, token: str) -> Member:
    """Let someone who is already here into another production. Raises LinkRefused, or AlreadyMember."""
    invitation = find_invitation(token, lock=True)
    if Member.objects.filter(production=invitation.production, person=person, removed_at=None).exists():
        raise AlreadyMember
    return _let_in(person, invitation)


def joined_by(person: Person, token: str) -> Production | None:
    """The production that this person joined by this very invitation, if they are still in it."""
    used = Invitation.objects.filter(token_hash=hash_token(token), used_by__person=person, used_by__removed_at=None)
    invitation = used.select_related("production").first()
    return invitation.production if invitation else None


def _let_in(person: Person, invitation: Invitation) -> Member:
    """Someone who was removed comes back to their own membership, and so to their own notes.

    A link that somebody made to sign them in does not reach into what they join after it was made.
    """
    withdraw_sign_in_links(person)
    member, _ = Member.objects.update_or_create(
        production=invitation.production,
        person=person,
        defaults={
            "role": invitation.role,
            "department": invitation.department,
            "character": invitation.character,
            "removed_at": None,
        },
    )
    invitation.used_at = timezone.now()
    invitation.used_by = member
    invitation.save(update_fields=["used_at", "used_by"])
    log.record(
        person,
        Act.Verb.JOINED,
        invitation.production,
        member.public_id,
        role=member.role,
        department=member.department,
    )
    return member


# Membership


@transaction.atomic
def name_character(by: Member, member: Member, character: str) -> None:
    """Say whom a member plays, "" for nobody."""
    member = Member.objects.select_for_update().get(pk=member.pk)
    if member.character == character:
        return
    before, member.character = member.character, character
    member.save(update_fields=["character"])
    told = {"name": member.name, "character": character, "before": before}
    log.record(by.person, Act.Verb.NAMED_CHARACTER, by.production, member.public_id, **told)


@transaction.atomic
def remove_member(by: Member, member: Member) -> None:
    """Take someone's way in away, and what would open it to them again; what they wrote stays.

    Refused for the last writer, so that someone can decide.
    """
    Production.objects.select_for_update(no_key=True).get(pk=by.production_id)
    member.refresh_from_db()
    if member.removed_at is not None:
        return
    writers = Member.objects.filter(production=by.production, role=Role.WRITER, removed_at=None)
    if member.is_writer and writers.count() == 1:
        raise Refused("A production keeps at least one writer. Invite another writer first.")
    for invitation in member.invitations_made.filter(used_at=None, withdrawn_at=None):
        withdraw_invitation(by, invitation)  # they may have kept the link for themselves
    withdraw_sign_in_links(member.person)
    member.removed_at = timezone.now()
    member.save(update_fields=["removed_at"])
    log.record(by.person, Act.Verb.REMOVED_MEMBER, by.production, member.public_id, name=member.name)


# Signing in again


def members_to_make_links_for(by: Member) -> frozenset[int]:
    """The ids of the members for whom this writer may make a link that signs them in.

    Such a link opens everything its person can open. So it is made only for readers, and only where every production
    they are in, or were in, is one that this writer is a writer of: nobody reaches through a colleague's account what
    they could not see by their own.
    """
    mine = Member.objects.filter(person=by.person, role=Role.WRITER, removed_at=None).values("production")
    beyond = Member.objects.exclude(production__in=mine).values("person")
    readers = by.production.members.filter(removed_at=None, person__starts_productions=False)
    return frozenset(readers.exclude(role=Role.WRITER).exclude(person__in=beyond).values_list("pk", flat=True))


@transaction.atomic
def make_sign_in_link(by: Member, member: Member) -> str:
    """A token that signs the member in once, within 24 hours; links made for them earlier are withdrawn."""
    withdraw_sign_in_links(member.person)
    if member.pk not in members_to_make_links_for(by):
        raise Refused(f"A link for {member.name} would open more than this production, so nobody else can make one.")
    token = new_token()
    link = SignInLink.objects.create(
        person=member.person, token_hash=hash_token(token), expires_at=timezone.now() + SIGN_IN_LINK_LASTS
    )
    log.record(by.person, Act.Verb.MADE_SIGN_IN_LINK, by.production, link.public_id, name=member.name)
    return token


def withdraw_sign_in_links(person: Person) -> None:
    """Withdraw what signs this person in from anywhere; links of this machine's own terminal stay.

    Until the transaction ends nobody else makes or withdraws one for them. An act that also locks an invitation does so
    before this, and touches the membership after it, so that no two acts wait for each other.
    """
    Person.objects.select_for_update(no_key=True).get(pk=person.pk)
    links = SignInLink.objects.filter(person=person, local_only=False, used_at=None, withdrawn_at=None)
    links.update(withdrawn_at=timezone.now())


def find_sign_in_link(token: str, *, from_this_machine: bool, lock: bool = False) -> SignInLink:
    """The open link of a token. Raises LinkRefused: unknown, used, expired, withdrawn, or elsewhere than it works."""
    found = SignInLink.objects.select_related("person")
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
def use_sign_in_link(token: str, *, from_this_machine: bool) -> Person:
    """Whom the link signs in; one for a single use is used up by this. Raises LinkRefused."""
    link = find_sign_in_link(token, from_this_machine=from_this_machine, lock=True)
    link.used_at = timezone.now()
    link.save(update_fields=["used_at"])
    return link.person
