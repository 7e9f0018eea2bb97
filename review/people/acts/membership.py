"""Who is in a production and as what: changed and taken away by writers, given back at the server's own terminal."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING

from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.utils import timezone

from review import log
from review.access import Deed, Role
from review.log import Act
from review.people.acts.invitations import withdraw_each
from review.people.acts.refusals import Refused
from review.people.acts.sign_in_links import end_link_sessions, withdraw_sign_in_links
from review.people.models import Invitation, Member, SignInLink
from review.productions.models import lock_for, lock_production

if TYPE_CHECKING:
    from review.people.models import Person
    from review.productions.models import Production

ELSEWHERE = "They are in another production."
LAST_WRITER = "A production keeps at least one writer. Invite another writer first."


@dataclass(frozen=True, slots=True)
class RoleInProduction:
    """What somebody is in a production. The fields are named as the record's; `character` is "" for nobody."""

    role: str
    department: str
    character: str


def role_in_production(member: Member) -> RoleInProduction:
    return RoleInProduction(member.role, member.department, member.character)


@transaction.atomic
def change_role(by: Member, member: Member, wanted: RoleInProduction) -> bool:
    """Give a member another role, department or character; whether anything changed.

    Refused for whoever started the production, by others, and for the last writer, unless they stay writers. Who is no
    longer a writer gives nobody access any more, and who becomes one is signed in by nobody else's link.
    """
    production = lock_for(by, Deed.INVITE)
    member = _member_of(production, member)
    if member.removed_at is not None:
        raise Refused(f"{member.name} was removed meanwhile. Invite them again.")
    before = role_in_production(member)
    if wanted == before:
        return False
    if wanted.role != before.role:
        _refuse_to_lose(production, by, member, "and stays a writer")
        _take_what_lets_in(by, member)
    member.role, member.department, member.character = wanted.role, wanted.department, wanted.character
    member.save(update_fields=["role", "department", "character"])
    _record_change(by, member, before, wanted)
    return True


def _record_change(by: Member, member: Member, before: RoleInProduction, after: RoleInProduction) -> None:
    told = {"name": member.name}
    if (before.role, before.department) != (after.role, after.department):
        stood, stands = asdict(before), asdict(after)
        changed = {name: [stood[name], stands[name]] for name in ("role", "department") if stood[name] != stands[name]}
        log.record(by.person, Act.Verb.CHANGED_ROLE, by.production, member.public_id, **told, changed=changed)
    if before.character != after.character:
        told |= {"character": after.character, "before": before.character}
        log.record(by.person, Act.Verb.NAMED_CHARACTER, by.production, member.public_id, **told)


@transaction.atomic
def remove_member(by: Member, member: Member) -> None:
    """Take someone's way in away, and what would open it to them again; what they wrote stays.

    Refused for the last writer, so that someone can decide, and for whoever started the production, unless they go
    themselves.
    """
    production = lock_for(by, Deed.INVITE)
    member = _member_of(production, member)
    if member.removed_at is not None:
        return
    _refuse_to_lose(production, by, member, "so nobody else can remove them")
    _take_what_lets_in(by, member)
    withdraw_each(by, Invitation.objects.filter(pk__in=_invitations_for(member)))
    member.removed_at = timezone.now()
    member.save(update_fields=["removed_at"])
    log.record(by.person, Act.Verb.REMOVED_MEMBER, production, member.public_id, name=member.name)


@transaction.atomic
def let_back_in(person: Person, production: Production, role: Role) -> Member:
    """Give somebody who was removed their place again, as whoever runs the server sees fit."""
    production = lock_production(production.pk)
    member = Member.objects.select_for_update().get(production=production, person=person)
    end_link_sessions(person)
    member.role, member.removed_at = role, None
    member.save(update_fields=["role", "removed_at"])
    log.record(person, Act.Verb.LET_BACK_IN, production, member.public_id, role=str(role))
    return member


def _member_of(production: Production, member: Member) -> Member:
    """The member as they stand now. Raises PermissionDenied for one of another production."""
    if member.production_id != production.pk:
        raise PermissionDenied(ELSEWHERE)
    return Member.objects.select_related("person").get(pk=member.pk)


def _refuse_to_lose(production: Production, by: Member, member: Member, therefore: str) -> None:
    if not member.is_writer:
        return
    if member.person_id == production.started_by_id and by.pk != member.pk:
        raise Refused(f"{member.name} started this production, {therefore}.")
    if production.members.filter(role=Role.WRITER, removed_at=None).count() == 1:
        raise Refused(LAST_WRITER)


def _invitations_for(member: Member) -> list[int]:
    """The keys of the invitations to the production in this member's name."""
    invitations = Invitation.objects.filter(production=member.production_id).values_list("pk", "name")
    return [pk for pk, name in invitations if name.casefold() == member.name.casefold()]


def _take_what_lets_in(by: Member, member: Member) -> None:
    """Withdraw what a member gave others to come in by, and what others gave them: they may have kept a link."""
    withdraw_each(by, Invitation.objects.filter(invited_by=member))
    withdraw_sign_in_links(member.person)
    end_link_sessions(member.person)
    SignInLink.objects.filter(made_by=member, used_at=None, withdrawn_at=None).update(withdrawn_at=timezone.now())
