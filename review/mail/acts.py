"""What is done about mail: somebody is told something, chooses how it comes, stops it; a letter is sent again."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Protocol

from django.db import transaction
from django.utils import timezone

from review import log
from review.access import Deed, refuse_elsewhere
from review.mail.models import (
    ASKING_LASTS,
    Letter,
    MailWish,
    Occasion,
    Pace,
    PieceOfNews,
    StoppedAddress,
    hash_address,
)
from review.mail.site import mail_is_on
from review.productions.models import AskedAgain, lock_for, lock_production

if TYPE_CHECKING:
    from collections.abc import Iterable

    from django.contrib.auth.base_user import AbstractBaseUser

    from review.productions.models import Production


class Addressee(Protocol):
    """A member to whom something is told: the people are a layer above."""

    @property
    def pk(self) -> int: ...
    @property
    def production_id(self) -> int: ...


class ActingMember(AskedAgain, Protocol):
    """A member who does something themselves."""

    @property
    def person(self) -> AbstractBaseUser: ...
    @property
    def production(self) -> Production: ...


def tell_by_mail(members: Iterable[Addressee], occasion: Occasion, about: str, again: str = "") -> None:
    """Have each of these members told of something by mail, once, within the transaction of what they are told of.

    What the mail says is worked out when it is sent, as things stand by then. Where this server sends no mail, nothing
    waits for the day it does.
    """
    if not mail_is_on():
        return
    PieceOfNews.objects.bulk_create(
        (
            PieceOfNews(
                production_id=member.production_id, member_id=member.pk, occasion=occasion, about=about, again=again
            )
            for member in members
        ),
        ignore_conflicts=True,
    )


def wants_no_mail(address: str) -> bool:
    """Whether somebody at this address has said that they want no mail from here."""
    return StoppedAddress.objects.filter(address_hash=hash_address(address)).exists()


def mail_invitation(production: Production, about: str, address: str) -> bool:
    """Have an invitation sent to an address, within its own transaction; whether it will be."""
    if not mail_is_on() or wants_no_mail(address):
        return False
    address = address.strip()
    letter = Letter.objects.create(production=production, address=address, address_hash=hash_address(address))
    PieceOfNews.objects.create(production=production, occasion=Occasion.INVITED, about=about, letter=letter)
    return True


def mail_new_password_link(about: str, address: str) -> bool:
    """Have a link to choose a new password sent to an address, within the transaction that has locked the person whom
    `about` names; whether one is on its way now. While one is, no second is made: it is tried again at once. One that
    is too old to be sent any more is no longer on its way."""
    if not mail_is_on() or wants_no_mail(address):
        return False
    asked, now = {"occasion": Occasion.NEW_PASSWORD, "about": about}, timezone.now()
    told = PieceOfNews.objects.filter(**asked).values("letter")
    if not Letter.objects.waiting().filter(pk__in=told, created_at__gt=now - ASKING_LASTS).update(due_at=now):
        letter = Letter.objects.create(address=address, address_hash=hash_address(address))
        PieceOfNews.objects.create(letter=letter, **asked)
    return True


@transaction.atomic
def choose_pace(by: ActingMember, pace: str) -> bool:
    """Let a member have their mail at once, daily, or not at all; whether that is something new. Whoever wants some is
    written to again, though they once stopped all mail to their address."""
    lock_for(by, Deed.READ)
    stopped = StoppedAddress.objects.filter(address_hash=hash_address(by.person.get_username()))
    is_new = pace != Pace.NONE and bool(stopped.delete()[0])
    return _set_pace(by.pk, by.person, by.production, pace, is_new=is_new)


@transaction.atomic
def stop_mail(letter: Letter) -> None:
    """No more mail to whom this letter went, as whoever has it asks. Doing it again changes nothing."""
    if letter.production_id is not None:
        lock_production(letter.production_id)
    if letter.member is None:
        StoppedAddress.objects.get_or_create(address_hash=letter.address_hash)
        return
    _set_pace(letter.member.pk, letter.member.person, letter.member.production, Pace.NONE, by_link=True)


def _set_pace(
    member: int, person: AbstractBaseUser, production: Production, pace: str, *, is_new: bool = False, **told: Any
) -> bool:
    if pace_of(member) == pace and not is_new:
        return False
    MailWish.objects.update_or_create(member_id=member, defaults={"pace": Pace(pace)})
    log.record(person, log.Act.Verb.CHOSE_MAIL, production, pace=pace, **told)
    return True


def pace_of(member: int) -> Pace:
    """How a member, by their key, has their mail."""
    wish = MailWish.objects.filter(member_id=member).first()
    return Pace(wish.pace) if wish else Pace.AT_ONCE


def was_sent(member: int, occasion: Occasion, about: str) -> bool:
    """Whether a member, by their key, has a letter that tells this."""
    told = PieceOfNews.objects.filter(member_id=member, occasion=occasion, about=about)
    return told.exclude(letter__sent_at=None).exists()


@transaction.atomic
def send_again(by: ActingMember, letter: Letter) -> bool:
    """Send a letter again that was given up; whether it was. It keeps its Message-ID, by which one that did arrive is
    known as the same."""
    lock_for(by, Deed.SEND_AGAIN)
    refuse_elsewhere(by, letter)
    given_up = Letter.objects.filter(pk=letter.pk).exclude(given_up_at=None)
    back = given_up.update(
        given_up_at=None, handed_over_at=None, claim=None, claimed_until=None, tries=0, why="", due_at=timezone.now()
    )
    if back:
        log.record(by.person, log.Act.Verb.SENT_AGAIN, by.production, letter.public_id)
    return bool(back)
