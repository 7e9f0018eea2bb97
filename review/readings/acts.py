"""What writers do with readings: open one, change what was asked, bring readers in and take them off, remind them,
close it and open it again. Each is one logged transaction."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from review import log
from review.access import Deed, Role, refuse_elsewhere
from review.mail.acts import tell_by_mail
from review.mail.models import Occasion
from review.notes.models import Note
from review.people.acts import Refused
from review.people.models import Member
from review.productions.models import lock_for
from review.readers.models import Reader, Reading
from review.readings.locked_reading import lock_reading
from review.records import mark_of

if TYPE_CHECKING:
    import uuid
    from collections.abc import Iterable, Sequence
    from datetime import date

    from review.drafts.models import Draft

Verb = log.Act.Verb
NOBODY = "Choose who reads it: somebody on the production who is not a writer."
WITHDRAWN = "This draft was withdrawn, so that nobody can read it. Put it up again first."
CLOSED = "This reading is closed. Open it again first."


@dataclass(frozen=True, slots=True)
class Asked:
    """What a writer asks of readers: until when, and what to look for, in light words."""

    until: date
    look_for: str

    @classmethod
    def of(cls, reading: Reading) -> Asked:
        return cls(reading.until, reading.look_for)

    @property
    def seen(self) -> str:
        """A mark of these very words and date: a form carries it, so that it shows on what it was based."""
        return mark_of(self)


class ReadingChangedMeanwhile(Exception):
    """What a writer would change of a reading is not what they were shown: another writer changed it."""


@transaction.atomic
def open_reading(
    by: Member, draft: Draft, members: Iterable[Member], asked: Asked, form_id: uuid.UUID, *, is_blind: bool = True
) -> Reading:
    """Open a reading of a draft for these members; the same form sent again finds the reading it opened.

    Whether it is blind holds for as long as it lasts. Raises Refused where nobody is left of them who reads: writers
    see everything, and whoever was removed can open nothing.
    """
    production = lock_for(by, Deed.ASK_FOR_READING)
    members = list(members)
    refuse_elsewhere(by, draft, *members)
    before = Reading.objects.filter(form_id=form_id, opened_by=by).first()
    if before is not None:
        before.came_again = True
        return before
    draft.refresh_from_db(fields=["withdrawn_at"])
    if draft.withdrawn_at is not None:
        raise Refused(WITHDRAWN)
    readers = _those_who_read(members)
    if not readers:
        raise Refused(NOBODY)
    reading = Reading.objects.create(
        form_id=Reading.unused(form_id),
        production=production,
        draft=draft,
        opened_by=by,
        until=asked.until,
        look_for=asked.look_for.strip(),
        is_blind=is_blind,
    )
    _bring_in(reading, readers, came_late=False)
    told = {"draft": draft.number, "until": asked.until.isoformat(), "is_blind": is_blind, "readers": len(readers)}
    log.record(by.person, Verb.OPENED_READING, production, reading.public_id, **told)
    tell_by_mail(readers, Occasion.READING_OPENED, reading.public_id)
    return reading


def _those_who_read(members: Sequence[Member]) -> list[Member]:
    kept = Member.objects.filter(pk__in=[member.pk for member in members], removed_at=None)
    return list(kept.exclude(role=Role.WRITER))


def _bring_in(reading: Reading, members: Sequence[Member], *, came_late: bool) -> None:
    """Make the members readers. To whom others' words on the draft stood open before, they count as open since now;
    not to whoever reads alone in another reading, unless they had heard them before that."""
    now = timezone.now()
    notes = Note.objects.filter(draft=reading.draft).not_withdrawn().for_everyone()
    wrote = set(notes.values_list("author", flat=True))
    heard = Reader.objects.filter(reading__draft=reading.draft).exclude(others_open_at=None)
    has_heard = set(heard.values_list("member", flat=True))
    alone = set(Reader.objects.reading_alone().values_list("member", flat=True))

    def stand_open_to(member: Member) -> bool:
        could_hear = not reading.is_blind or bool(wrote - {member.pk})
        return member.pk in has_heard or (could_hear and member.pk not in alone)

    Reader.objects.bulk_create(
        Reader(
            reading=reading,
            member=member,
            came_late=came_late,
            others_open_at=now if stand_open_to(member) else None,
        )
        for member in members
    )


@transaction.atomic
def change_reading(by: Member, reading: Reading, asked: Asked, seen: str) -> bool:
    """Give the reading another date or other words on what to look for; whether anything changed.

    `seen` is the mark of what the change is based on. Raises ReadingChangedMeanwhile where something else stands by
    now, unless it is what is asked.
    """
    found = lock_reading(by, reading)
    if found.closed_at is not None:
        raise Refused(CLOSED)
    had = Asked.of(found)
    asked = Asked(asked.until, asked.look_for.strip())
    if asked == had:
        return False
    if had.seen != seen:
        raise ReadingChangedMeanwhile
    found.until, found.look_for = asked.until, asked.look_for
    found.save(update_fields=["until", "look_for"])
    told = {"until": asked.until.isoformat(), "was_until": had.until.isoformat(), "was_look_for": had.look_for}
    log.record(by.person, Verb.CHANGED_READING, by.production, found.public_id, **told)
    return True


@transaction.atomic
def add_readers(by: Member, reading: Reading, members: Iterable[Member]) -> list[Member]:
    """Bring members into an open reading, those too who had been taken off it; whoever is in it stays as they are.

    From now on a blind one keeps the others' words from them, until they have finished.
    """
    found = lock_reading(by, reading)
    if found.closed_at is not None:
        raise Refused(CLOSED)
    members = list(members)
    refuse_elsewhere(by, *members)
    wanted = {member.pk: member for member in _those_who_read(members)}
    known = {reader.member_id: reader for reader in found.readers.filter(member__in=wanted).select_related("member")}
    back = [reader for reader in known.values() if reader.taken_off_at is not None]
    Reader.objects.filter(pk__in=[reader.pk for reader in back]).stand_open(timezone.now())  # they could read meanwhile
    for reader in back:
        reader.taken_off_at = None
        reader.save(update_fields=["taken_off_at"])
    new = [member for pk, member in wanted.items() if pk not in known]
    _bring_in(found, new, came_late=True)
    added = new + [wanted[reader.member_id] for reader in back]
    told = {"reading": found.public_id}
    log.record_each(by.person, Verb.ADDED_READER, by.production, [member.public_id for member in added], **told)
    tell_by_mail(new, Occasion.READING_OPENED, found.public_id)
    _ask_again_by_mail(found, back)
    return added


def _ask_again_by_mail(reading: Reading, readers: Iterable[Reader]) -> None:
    """Tell readers that a reading waits for them, as they were told once before."""
    members = [reader.member for reader in readers]
    tell_by_mail(members, Occasion.READING_OPENED, reading.public_id, f"{timezone.now():%y%m%d%H%M%S}")


@transaction.atomic
def take_off(by: Member, reader: Reader) -> bool:
    """Take somebody off a reading; whether they were in it until now. What they said stays with their name, and
    they may read the others again, as everybody may."""
    lock_reading(by, reader.reading)
    found = Reader.objects.select_related("member__person").get(pk=reader.pk)
    if found.taken_off_at is not None:
        return False
    found.taken_off_at = timezone.now()
    found.save(update_fields=["taken_off_at"])
    Reader.objects.filter(member=found.member_id).stand_open(found.taken_off_at)
    told = {"reading": reader.reading.public_id, "name": found.name}
    log.record(by.person, Verb.TOOK_OFF_READER, by.production, found.member.public_id, **told)
    return True


@transaction.atomic
def remind(by: Member, reading: Reading) -> list[Reader]:
    """Remind those who have not finished: they find it on their home. Gives those who were reminded."""
    found = lock_reading(by, reading)
    if found.closed_at is not None:
        raise Refused(CLOSED)
    waiting = unfinished(found)
    now = timezone.now()
    for reader in waiting:
        reader.reminded_at = now
    Reader.objects.bulk_update(waiting, ["reminded_at"])
    if waiting:
        log.record(by.person, Verb.REMINDED_READERS, by.production, found.public_id, readers=len(waiting))
        today = timezone.localdate().isoformat()  # so that nobody is reminded by mail twice a day
        tell_by_mail([reader.member for reader in waiting], Occasion.READING_REMINDED, found.public_id, today)
    return waiting


def unfinished(reading: Reading) -> list[Reader]:
    """The readers that the reading waits for."""
    return list(reading.readers.waited_for().select_related("member__person"))


@transaction.atomic
def close_reading(by: Member, reading: Reading) -> bool:
    """End the reading; whether it was open until now. Whoever has not finished may read the others from now on, if no
    other reading keeps these from them: what they said so far counts."""
    found = lock_reading(by, reading)
    if found.closed_at is not None:
        return False
    found.closed_at = timezone.now()
    found.save(update_fields=["closed_at"])
    Reader.objects.filter(member__in=found.readers.values("member")).stand_open(found.closed_at)
    log.record(by.person, Verb.CLOSED_READING, by.production, found.public_id, draft=found.draft.number)
    readers = found.readers.in_it().select_related("member")
    tell_by_mail([reader.member for reader in readers], Occasion.READING_CLOSED, found.public_id)
    return True


@transaction.atomic
def reopen_reading(by: Member, reading: Reading, until: date) -> bool:
    """Open a closed reading again, to another date; whether it was closed until now. Whoever has not finished is asked
    by mail once more. A blind one keeps the others' words again from them; that they could read them meanwhile stays
    said."""
    found = lock_reading(by, reading)
    if found.closed_at is None:
        return False
    found.readers.stand_open(timezone.now())
    found.closed_at, found.until = None, until
    found.save(update_fields=["closed_at", "until"])
    told = {"draft": found.draft.number, "until": until.isoformat()}
    log.record(by.person, Verb.REOPENED_READING, by.production, found.public_id, **told)
    _ask_again_by_mail(found, unfinished(found))
    return True
