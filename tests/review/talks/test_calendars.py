"""A talk for a calendar. Sources: RFC 5545 (iCalendar) and RFC 5546 (its methods); read again by `icalendar`."""

from __future__ import annotations

import re
import uuid
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Any

import pytest
from django.utils import timezone
from icalendar import Calendar

from review.talks.acts import When, call_off, call_talk, change_talk
from review.talks.calendars import CANCEL, PUBLISH, REQUEST, calendar_of

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.people.models import Member
    from review.talks.models import Talk

pytestmark = pytest.mark.django_db

BEGINS = datetime(2031, 12, 3, 18, 0, tzinfo=UTC)
PLACE = "Net loft, slip 4; ring „Möwe“\\Kai — and mind the step, it is wet when the tide is in and nobody sweeps it"


@pytest.fixture(autouse=True)
def site(settings: Any) -> None:
    settings.SITE_ADDRESS = "https://script.example.org"
    settings.DEFAULT_FROM_EMAIL = "Fairhand <fairhand@example.org>"


@pytest.fixture
def talk(writer: Member, crew: Member, draft: Draft) -> Talk:
    return call_talk(writer, draft, [crew], When(BEGINS, 90, PLACE), uuid.uuid4())


def event_in(text: str) -> Any:
    """The one event, whose values have types of many sorts."""
    (event,) = Calendar.from_ical(text).walk("VEVENT")
    return event


def test_its_lines_are_as_the_standard_has_them(talk: Talk) -> None:
    """3.1: each ends in CRLF, and none is longer than 75 octets; a line that goes on begins with a space."""
    text = calendar_of(talk, PUBLISH)
    assert text.endswith("END:VCALENDAR\r\n")
    assert "\n" not in text.replace("\r\n", "")
    assert max(len(line.encode()) for line in text.split("\r\n")) <= 75
    unfolded = text.replace("\r\n ", "")
    # 3.3.11: a comma, a semicolon and a backslash in a text are escaped
    assert "LOCATION:Net loft\\, slip 4\\; ring „Möwe“\\\\Kai — and mind" in unfolded
    assert re.search(r"\r\nDTSTAMP:\d{8}T\d{6}Z\r\n", text)


def test_another_reader_finds_the_talk_in_it(talk: Talk, writer: Member, crew: Member) -> None:
    calendar = Calendar.from_ical(calendar_of(talk, PUBLISH))
    assert (calendar["VERSION"], calendar["METHOD"]) == ("2.0", "PUBLISH")
    event = event_in(calendar_of(talk, PUBLISH))
    assert event["LOCATION"] == PLACE
    assert event["DTSTART"].dt == BEGINS
    assert event["DTEND"].dt - event["DTSTART"].dt == timedelta(minutes=90)
    assert (event["UID"], event["SEQUENCE"]) == (f"{talk.public_id}@example.org", 0)
    assert (event["STATUS"], str(event["ORGANIZER"])) == ("CONFIRMED", "mailto:fairhand@example.org")
    assert event["DESCRIPTION"] == "With Ada Wren, Bo Finch."
    assert "ATTENDEE" not in event  # RFC 5546, 3.2.1
    assert crew.person.email not in calendar_of(talk, PUBLISH)


def test_what_is_sent_names_whom_it_is_sent_to_and_nobody_else(talk: Talk, crew: Member, cast: Member) -> None:
    crew.person.name = 'Bo "Gull" Finch'
    event = event_in(calendar_of(talk, REQUEST, crew))
    assert str(event["ATTENDEE"]) == f"mailto:{crew.person.email}"  # RFC 5546, 3.2.2, needs one
    assert event["ATTENDEE"].params["CN"] == "Bo ”Gull” Finch"
    assert cast.person.email not in calendar_of(talk, REQUEST, crew)


def test_a_change_keeps_its_uid_and_raises_its_sequence(talk: Talk, writer: Member, crew: Member) -> None:
    """3.8.7.4 of RFC 5545."""
    later = When(BEGINS + timedelta(hours=1), 90, PLACE)
    assert change_talk(writer, talk, [crew], later, 0)
    assert not change_talk(writer, talk, [crew], later, 1)
    talk.refresh_from_db()
    event = event_in(calendar_of(talk, REQUEST, crew))
    assert (event["UID"], event["SEQUENCE"]) == (f"{talk.public_id}@example.org", 1)
    assert event["DTSTART"].dt == BEGINS + timedelta(hours=1)
    call_off(writer, talk)
    talk.refresh_from_db()
    event = event_in(calendar_of(talk, CANCEL, crew))
    assert (event["SEQUENCE"], event["STATUS"]) == (2, "CANCELLED")


def test_no_line_begins_within_what_somebody_typed(talk: Talk, writer: Member, crew: Member) -> None:
    place = "Loft\r\nATTENDEE:mailto:all@example.org"
    change_talk(writer, talk, [crew], When(timezone.now() + timedelta(days=1), 60, place), 0)
    talk.refresh_from_db()
    event = event_in(calendar_of(talk, PUBLISH))
    assert "ATTENDEE" not in event
    assert "all@example.org" in event["LOCATION"]
