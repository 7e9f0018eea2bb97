"""What writers do with talks: call one, change it, call it off. Each is one logged transaction, and those who are asked
are told by mail."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from review import log
from review.access import Deed, refuse_elsewhere
from review.mail.acts import tell_by_mail
from review.mail.models import Occasion
from review.people.acts import Refused
from review.people.models import Member
from review.productions.models import lock_for
from review.talks.models import Talk

if TYPE_CHECKING:
    import uuid
    from collections.abc import Iterable
    from datetime import datetime

    from review.drafts.models import Draft

Verb = log.Act.Verb
NOBODY = "Choose who comes: somebody on the production beside yourself."
WITHDRAWN = "This draft was withdrawn. Put it up again first."
OFF = "This talk was called off. Call another."


class TalkChangedMeanwhile(Exception):
    """What a writer would change of a talk is not what they were shown: another writer changed it."""


@dataclass(frozen=True, slots=True)
class When:
    """When a talk begins, how many minutes it lasts, and where it is."""

    starts_at: datetime
    minutes: int
    place: str

    @classmethod
    def of(cls, talk: Talk) -> When:
        return cls(talk.starts_at, talk.minutes, talk.place)


@transaction.atomic
def call_talk(by: Member, draft: Draft, members: Iterable[Member], when: When, form_id: uuid.UUID) -> Talk:
    """Call a talk about a draft with these members; the same form sent again finds the talk it called.

    Raises Refused where nobody is left of them, or the draft was withdrawn.
    """
    production = lock_for(by, Deed.TALK)
    members = list(members)
    refuse_elsewhere(by, draft, *members)
    before = Talk.objects.filter(form_id=form_id, called_by=by).first()
    if before is not None:
        before.came_again = True
        return before
    draft.refresh_from_db(fields=["withdrawn_at"])
    if draft.withdrawn_at is not None:
        raise Refused(WITHDRAWN)
    asked = _those_here(members)
    talk = Talk.objects.create(
        form_id=Talk.unused(form_id),
        production=production,
        draft=draft,
        called_by=by,
        starts_at=when.starts_at,
        minutes=when.minutes,
        place=when.place.strip(),
    )
    talk.members.set(asked)
    told = {"draft": draft.number, "starts_at": when.starts_at.isoformat(), "members": len(asked)}
    log.record(by.person, Verb.CALLED_TALK, production, talk.public_id, **told)
    _tell(talk, asked)
    return talk


@transaction.atomic
def change_talk(by: Member, talk: Talk, members: Iterable[Member], when: When, seen: int) -> bool:
    """Give a talk another time, place or people; whether anything changed. Who is asked no more is told so too.

    `seen` is the sequence that the change is based on: TalkChangedMeanwhile is raised where another stands by now.
    """
    found = _lock(by, talk)
    members = list(members)
    refuse_elsewhere(by, *members)
    if found.sequence != seen:
        raise TalkChangedMeanwhile
    asked, were = _those_here(members), list(found.members.all())
    when = When(when.starts_at, when.minutes, when.place.strip())
    if when == When.of(found) and set(asked) == set(were):
        return False
    found.starts_at, found.minutes, found.place = when.starts_at, when.minutes, when.place
    found.sequence += 1
    found.save(update_fields=["starts_at", "minutes", "place", "sequence"])
    found.members.set(asked)
    told = {"starts_at": when.starts_at.isoformat(), "sequence": found.sequence}
    log.record(by.person, Verb.CHANGED_TALK, by.production, found.public_id, **told)
    _tell(found, {*asked, *were})
    return True


@transaction.atomic
def call_off(by: Member, talk: Talk) -> bool:
    """Call a talk off; whether it was to be held until now."""
    lock_for(by, Deed.TALK)
    refuse_elsewhere(by, talk)
    found = Talk.objects.get(pk=talk.pk)
    if found.called_off_at is not None:
        return False
    found.called_off_at, found.sequence = timezone.now(), found.sequence + 1
    found.save(update_fields=["called_off_at", "sequence"])
    log.record(by.person, Verb.CALLED_OFF_TALK, by.production, found.public_id, draft=found.draft.number)
    _tell(found, found.members.all())
    return True


def _lock(by: Member, talk: Talk) -> Talk:
    lock_for(by, Deed.TALK)
    refuse_elsewhere(by, talk)
    found = Talk.objects.select_related("draft").get(pk=talk.pk)
    if found.called_off_at is not None:
        raise Refused(OFF)
    return found


def _those_here(members: Iterable[Member]) -> list[Member]:
    kept = list(Member.objects.filter(pk__in=[member.pk for member in members], removed_at=None))
    if not kept:
        raise Refused(NOBODY)
    return kept


def _tell(talk: Talk, members: Iterable[Member]) -> None:
    tell_by_mail(members, Occasion.TALK, talk.public_id, str(talk.sequence))
