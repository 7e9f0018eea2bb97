"""What is told of readings: that one was opened, that it waits, that it is closed and what became of one's notes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.urls import reverse
from django.utils.formats import date_format

from review.letters.of_notes import what_became
from review.letters.tidings import Tidings, quoted
from review.notes.models import Note
from review.readers.models import Reader

if TYPE_CHECKING:
    from review.people.models import Member

ALONE = (
    "You read on your own: until you have finished, you see nothing of what the others say, and they see nothing of "
    "what you do."
)
OPEN_TO_ALL = "What its readers said is open to all of them now."


def opened(member: Member, about: str) -> Tidings | None:
    """That somebody asks the member to read, as long as the reading waits for them."""
    reader = _waited_for(member, about)
    if reader is None:
        return None
    reading = reader.reading
    begun = " You have begun, and not finished yet." if reader.begun_at else ""  # asked once more
    asks = f"{reading.opened_by.name} asks you to read {reading.draft.by_number} until {_day(reader)}.{begun}"
    look_for = reading.look_for.strip()
    what = f"What to look for:\n\n{quoted(look_for)}" if look_for else ""
    return Tidings(f"{reading.draft.by_number} to read", (asks, what, ALONE if reading.is_blind else ""), _path(reader))


def reminded(member: Member, about: str) -> Tidings | None:
    reader = _waited_for(member, about)
    if reader is None:
        return None
    begun = "You have begun, and not finished yet." if reader.begun_at else "You have not begun yet."
    asks = f"A reminder: {reader.reading.draft.by_number} is there for you to read, until {_day(reader)}. {begun}"
    return Tidings(f"A reminder to read {reader.reading.draft.by_number}", (asks,), _path(reader))


def closed(member: Member, about: str) -> Tidings | None:
    """That a reading of theirs is closed, with what became of their notes on its draft so far."""
    reader = _reader(member, about)
    if reader is None or reader.reading.is_open:
        return None
    draft = reader.reading.draft
    kept = Reader.objects.alone_as(member).exists()  # in another reading
    thanks = f"The reading of {draft.by_number} is closed." + ("" if kept else f" {OPEN_TO_ALL}")
    mine = Note.objects.visible_to(member).of(member).not_withdrawn().filter(draft=draft)
    return Tidings(f"The reading of {draft.by_number} is closed", (thanks, *what_became(member, mine)), _path(reader))


def _reader(member: Member, about: str) -> Reader | None:
    readers = Reader.objects.in_it().filter(member=member, reading__public_id=about)
    standing = readers.filter(reading__draft__withdrawn_at=None)
    return standing.select_related("reading__draft", "reading__opened_by__person").first()


def _waited_for(member: Member, about: str) -> Reader | None:
    reader = _reader(member, about)
    waits = Reader.objects.waited_for().filter(pk=reader.pk, reading__closed_at=None) if reader else None
    return reader if waits and waits.exists() else None


def _day(reader: Reader) -> str:
    return date_format(reader.reading.until, "l, j F")


def _path(reader: Reader) -> str:
    return reverse("reading", args=[reader.member.production.public_id, reader.reading.public_id])
