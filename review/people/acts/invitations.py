"""Invitations: made and withdrawn by writers, and used by whoever holds the link, once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import IntegrityError, models, transaction
from django.utils import timezone

from review import log
from review.access import Deed, may, refuse_elsewhere
from review.log import Act
from review.mail.acts import mail_invitation
from review.people.acts.refusals import AddressTaken, AlreadyMember, LinkRefused
from review.people.acts.sign_in_links import end_link_sessions, withdraw_sign_in_links
from review.people.models import INVITATION_LASTS, Invitation, Member, Person, hash_token, new_token
from review.productions.models import lock_for, lock_production

if TYPE_CHECKING:
    import uuid

    from review.productions.models import Production


@transaction.atomic
def invite(
    by: Member, name: str, role: str, department: str, form_id: uuid.UUID, character: str = "", address: str = ""
) -> tuple[Invitation, str | None]:
    """An invitation and its token, which is known only now. The same form again gives the first, without a token.

    To an `address` it is sent by mail too, where this server sends any and whoever is there has not said no to it.
    """
    production = lock_for(by, Deed.INVITE)
    token = new_token()
    told = {"invited_by": by, "name": name.strip(), "role": role, "department": department, "character": character}
    made_now = {
        "production": production,
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
        production,
        invitation.public_id,
        name=invitation.name,
        role=invitation.role,
        department=invitation.department,
    )
    if address:
        mail_invitation(production, invitation.public_id, address)
    return invitation, token


def make_mailed_link(invitation: Invitation) -> str | None:
    """A token for the letter that brings an invitation, in the place of one made for it before; None where it lets
    nobody in any more."""
    if invitation.state != "open" or not may(invitation.invited_by, Deed.INVITE):
        return None
    token = new_token()
    Invitation.objects.filter(pk=invitation.pk).update(mailed_token_hash=hash_token(token))
    return token


@transaction.atomic
def withdraw_invitation(by: Member, invitation: Invitation) -> None:
    """Withdraw an open invitation; one that is used, withdrawn or expired stays as it is."""
    lock_for(by, Deed.INVITE)
    refuse_elsewhere(by, invitation)
    withdraw_each(by, Invitation.objects.filter(pk=invitation.pk))


def withdraw_each(by: Member, invitations: models.QuerySet[Invitation]) -> None:
    """Withdraw those that are open, within a transaction that holds their production."""
    for invitation in invitations.filter(used_at=None, withdrawn_at=None).select_for_update():
        if invitation.state != "open":
            continue
        invitation.withdrawn_at = timezone.now()
        invitation.save(update_fields=["withdrawn_at"])
        told = {"name": invitation.name}
        log.record(by.person, Act.Verb.WITHDREW_INVITATION, by.production, invitation.public_id, **told)


def find_invitation(token: str, *, lock: bool = False) -> Invitation:
    """The open invitation of a token. Raises LinkRefused: unknown, used, expired or withdrawn.

    One of somebody who may invite no longer counts as withdrawn.
    """
    found = Invitation.objects.select_related("production", "invited_by__person")
    if lock:
        found = found.select_for_update(of=("self",))
    invitation = found.filter(opened_by(token)).first()
    if invitation is None:
        raise LinkRefused("unknown")
    if invitation.state != "open":
        raise LinkRefused(invitation.state)
    if not may(invitation.invited_by, Deed.INVITE):
        raise LinkRefused("withdrawn")
    return invitation


def opened_by(token: str) -> models.Q:
    """What is asked of invitations: whose link this token is, the one that was shown or the one that was mailed."""
    return models.Q(token_hash=hash_token(token)) | models.Q(mailed_token_hash=hash_token(token))


def _take_invitation(token: str) -> Invitation:
    """The open invitation of a token, locked with its production, which comes first, as in every act."""
    lock_production(find_invitation(token).production_id)
    return find_invitation(token, lock=True)


@transaction.atomic
def accept_invitation(token: str, name: str, email: str, password: str | None = None) -> Member:
    """Make a new person of an invitation and let them in. Raises LinkRefused, or AddressTaken by someone else."""
    invitation = _take_invitation(token)
    try:
        with transaction.atomic():
            person = Person.objects.create_user(email, name, password)
    except IntegrityError:
        raise AddressTaken from None
    return _let_in(person, invitation)


@transaction.atomic
def join_as(person: Person, token: str) -> Member:
    """Let someone who is already here into another production. Raises LinkRefused, or AlreadyMember.

    Whoever was removed comes back by an invitation that was made after that, and by none from before.
    """
    invitation = _take_invitation(token)
    member = Member.objects.filter(production=invitation.production, person=person).first()
    if member and member.removed_at is None:
        raise AlreadyMember
    if member and member.removed_at and invitation.created_at <= member.removed_at:
        raise LinkRefused("withdrawn")
    return _let_in(person, invitation)


def joined_by(person: Person, token: str) -> Production | None:
    """The production that this person joined by this very invitation, if they are still in it."""
    used = Invitation.objects.filter(opened_by(token), used_by__person=person, used_by__removed_at=None)
    invitation = used.select_related("production").first()
    return invitation.production if invitation else None


def _let_in(person: Person, invitation: Invitation) -> Member:
    """Someone who was removed comes back to their own membership, and so to their own notes.

    A link that somebody made to sign them in does not reach into what they join after it was made, nor does a session
    that began by one.
    """
    withdraw_sign_in_links(person)
    end_link_sessions(person)
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
