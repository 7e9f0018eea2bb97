"""Beginning to make something for a member, and how that ends."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import IntegrityError, transaction
from django.utils import timezone

from review.access import Deed, refuse_unless
from review.making.models import MOST_WORDS, Making, sees_as

if TYPE_CHECKING:
    from django.http import HttpResponseBase

    from review.people.models import Member

# Of an answer's headers, those that say what it is: all others are given it anew when it is handed over.
KEPT_HEADERS = ("Content-Type", "Content-Disposition", "Cache-Control", "Location")


@transaction.atomic
def begin_making(by: Member, deed: Deed, address: str, what: str, back: str, *, is_sent: bool) -> tuple[Making, bool]:
    """What a member asked for at an address, to be made; and whether it is new. What is under way already is found.

    It does not lock the production, which whatever is being made may hold for long: nobody would be shown how far it
    is. That one of a kind is under way is the database's to hold.
    """
    by.refresh_from_db(fields=["role", "removed_at"])
    refuse_unless(by, deed)
    Making.objects.make_room()
    if found := _under_way(by, address):
        return found, False
    told = {"deed": deed.name, "what": what[:MOST_WORDS], "back": back, "is_sent": is_sent, **sees_as(by)}
    try:
        with transaction.atomic():
            return Making.objects.create(production=by.production, by=by, address=address, **told), True
    except IntegrityError:  # it was asked for twice at the same moment
        return Making.objects.of(by).under_way().get(address=address), False


def keep_answer(making: Making, answer: HttpResponseBase) -> None:
    """It is made: keep the answer, to be handed over."""
    content = b"".join(answer) if answer.streaming else answer.content  # type: ignore[attr-defined]  # of the two sorts
    making.status, making.content, making.size = answer.status_code, content, len(content)
    making.headers = {name: answer[name] for name in KEPT_HEADERS if answer.has_header(name)}
    _end(making, Making.Ending.MADE, "status", "content", "size", "headers")
    Making.objects.make_room()


def say_it_failed(making: Making) -> None:
    """Something went wrong in making it."""
    _end(making, Making.Ending.FAILED)


def say_it_was_given_up(making: Making) -> None:
    """Whoever made it died, or took too long, or too much memory."""
    _end(making, Making.Ending.GIVEN_UP)


def _under_way(by: Member, address: str) -> Making | None:
    found = Making.objects.of(by).under_way().filter(address=address).first()
    if found is not None and found.is_silent:
        say_it_was_given_up(found)
        return None
    return found


def _end(making: Making, ending: Making.Ending, *further: str) -> None:
    making.ending, making.ended_at = ending, timezone.now()
    making.save(update_fields=["ending", "ended_at", *further])
