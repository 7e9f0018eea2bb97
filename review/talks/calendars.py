"""A talk as an iCalendar file (RFC 5545): its date and its people, for whatever calendar somebody keeps.

Times stand in UTC, which needs no time zone's rules beside them. Nobody's address is in it but that of whom it is sent
to: on a production nobody sees another's.
"""

from __future__ import annotations

from datetime import UTC
from email.utils import parseaddr
from typing import TYPE_CHECKING

from django.conf import settings
from django.urls import reverse
from django.utils import timezone
from icalendar import Calendar, Event, vCalAddress, vText

from review.mail.site import opened_at, sender_domain

if TYPE_CHECKING:
    from datetime import datetime

    from review.people.models import Member
    from review.talks.models import Talk

PRODID = "-//Fairhand//Talks//EN"
# RFC 5546, 1.4: a file that somebody takes tells of a talk, one that is sent asks somebody to it, or takes that back.
PUBLISH, REQUEST, CANCEL = "PUBLISH", "REQUEST", "CANCEL"


def calendar_of(talk: Talk, method: str, asked: Member | None = None, made: datetime | None = None) -> str:
    """The talk as an iCalendar object: lines of at most 75 octets that end in CRLF. `asked` is whom it is sent to."""
    event = Event()
    event.add("uid", f"{talk.public_id}@{sender_domain()}")
    event.add("sequence", talk.sequence)
    event.add("dtstamp", made or timezone.now())
    event.add("dtstart", _utc(talk.starts_at))
    event.add("dtend", _utc(talk.ends_at))
    event.add("summary", f"{talk.production.name}: talking over draft {talk.draft.number}")
    event.add("description", _description(talk))
    event.add("url", opened_at(reverse("talk", args=[talk.production.public_id, talk.public_id])))
    event.add("status", "CANCELLED" if method == CANCEL or talk.called_off_at else "CONFIRMED")
    if talk.place:
        event.add("location", talk.place)
    event["organizer"] = _person(talk.called_by.name, parseaddr(settings.DEFAULT_FROM_EMAIL)[1])
    if asked is not None:
        event.add("attendee", _person(asked.name, asked.person.email))
    calendar = Calendar()
    calendar.add("prodid", PRODID)
    calendar.add("version", "2.0")
    calendar.add("method", method)
    calendar.add_component(event)
    return str(calendar.to_ical().decode())


def _utc(moment: datetime) -> datetime:
    return moment.astimezone(UTC)


def _description(talk: Talk) -> str:
    names = sorted(member.name for member in talk.members.select_related("person"))
    return f"With {', '.join([talk.called_by.name, *names])}."


def _person(name: str, address: str) -> vCalAddress:
    person = vCalAddress(f"mailto:{address}")
    person.params["cn"] = vText(name.replace('"', "”"))  # RFC 5545, 3.2: a parameter has no quotation mark
    return person
