"""Who may do what: the one place that decides."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING, Protocol

from django.core.exceptions import PermissionDenied
from django.db import models

if TYPE_CHECKING:
    from datetime import datetime


class Role(models.TextChoices):
    WRITER = "writer", "Writer"
    PRODUCER = "producer", "Producer"
    CREW = "crew", "Crew"
    CAST = "cast", "Cast"


class Deed(StrEnum):
    """Something a member can do in a production, by the sentence that tells those who may not."""

    READ = "Only members read the drafts and the notes."
    NOTE = "Only members leave notes and replies."
    DECIDE = "Only a writer decides notes and sets their places."
    REWRITE = "Only a writer writes the next draft, and says what holds of names, places, days and voices."
    PUBLISH = "Only a writer puts up drafts and downloads their source."
    SET_UP = "Only a writer or a producer changes the production’s settings."
    INVITE = "Only a writer invites people and removes them."
    ASK_FOR_READING = "Only a writer opens readings, closes them, and asks the questions."
    FOLLOW_READINGS = "Only a writer or a producer sees how far readers are."
    TALK = "Only a writer calls talks, sees what there is to talk over, and takes down what is said."
    WRITE_PAPERS = "Only a writer puts up world papers."
    BRING_IN = "Only a writer brings notes in from a file."
    MARK = "Only writers, producers and crew mark words and put scenes in order."
    SEND_AGAIN = "Only a writer sees which mail did not arrive, and sends it again."
    WATCH = "Only a writer reads the security log."


MAY: dict[Role, frozenset[Deed]] = {
    Role.WRITER: frozenset(Deed),
    Role.PRODUCER: frozenset({Deed.READ, Deed.NOTE, Deed.MARK, Deed.SET_UP, Deed.FOLLOW_READINGS}),
    Role.CREW: frozenset({Deed.READ, Deed.NOTE, Deed.MARK}),
    Role.CAST: frozenset({Deed.READ, Deed.NOTE}),
}


# Of a reader, the words of others are kept: in a reading that is blind and open, until they have finished theirs, and
# while they are on the production and no writer, who sees everything. Asked of `Reader` records, in a query.
READS_ALONE = ~models.Q(member__role=Role.WRITER) & models.Q(
    member__removed_at=None,
    finished_at=None,
    taken_off_at=None,
    reading__is_blind=True,
    reading__closed_at=None,
    reading__draft__withdrawn_at=None,
)


class Membership(Protocol):
    """What is asked of a member: their role, and whether they were removed."""

    @property
    def pk(self) -> int: ...
    @property
    def role(self) -> str: ...
    @property
    def removed_at(self) -> datetime | None: ...
    @property
    def production_id(self) -> int: ...


class OfProduction(Protocol):
    """What is asked of something that belongs to a production, or to none."""

    @property
    def production_id(self) -> int | None: ...


class Starter(Protocol):
    """What is asked of a person who would start a production."""

    @property
    def starts_productions(self) -> bool: ...


class Written(Protocol):
    """What is asked of something that a member wrote."""

    @property
    def author_id(self) -> int: ...


class WrittenBySomebody(Written, Protocol):
    """What is asked of a note whose words somebody would change: the name of whoever said it, if they are no member."""

    @property
    def said_by(self) -> str: ...


class WrittenNote(Written, Protocol):
    """What is asked of a note that somebody would reply to: whether its author reads alone."""

    @property
    def author_reads_alone(self) -> bool: ...


def may(member: Membership, deed: Deed) -> bool:
    return member.removed_at is None and deed in MAY[Role(member.role)]


def refuse_unless(member: Membership, deed: Deed) -> None:
    """Raise PermissionDenied, with a sentence for the member, unless they may do the deed."""
    if not may(member, deed):
        raise PermissionDenied(str(deed))


def refuse_elsewhere(member: Membership, *things: OfProduction) -> None:
    """Raise PermissionDenied unless all of this belongs to the member's own production."""
    if any(thing.production_id != member.production_id for thing in things):
        raise PermissionDenied("This belongs to another production.")


def may_start_productions(person: Starter) -> bool:
    """Whoever set the server up may."""
    return person.starts_productions


def refuse_to_start(person: Starter) -> None:
    """Raise PermissionDenied, with a sentence for the person, unless they may start productions."""
    if not may_start_productions(person):
        raise PermissionDenied("Only whoever set this server up can begin a new production here. Ask them.")


def may_change(member: Membership, said: WrittenBySomebody) -> bool:
    """A note's words are its author's alone to change or correct; nobody's, where who said them is no member."""
    return not said.said_by and may_withdraw(member, said)


def may_join_thread(member: Membership, written: WrittenNote) -> bool:
    """Whoever reads alone is answered by writers alone: what others said under their note would be kept from them."""
    is_theirs = written.author_id == member.pk or member.role == Role.WRITER
    return may(member, Deed.NOTE) and (is_theirs or not written.author_reads_alone)


def may_withdraw(member: Membership, written: Written) -> bool:
    """A note or a reply is its author's alone to take back."""
    return may(member, Deed.NOTE) and written.author_id == member.pk
