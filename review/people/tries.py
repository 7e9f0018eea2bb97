"""How often something may be tried before it is turned away for a while: signing in, asking for a link by mail.

The tries are counted in a table of their own, so that nothing else pushes them out, all processes count together, and
a restart forgets none. A try is counted before it is looked at and taken back when it comes out well: so many at the
same moment are counted as one after another would be.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from django.utils import timezone
from django.utils.crypto import salted_hmac

from review.people.models import Try


class TriedTooOften(Exception):
    """It was tried too often; `by_one` is whether by one who tries, or else at one door."""

    def __init__(self, *, by_one: bool) -> None:
        super().__init__("That was tried too often.")
        self.by_one = by_one


@dataclass(frozen=True, slots=True)
class Bound:
    """The most tries of one kind within a time: at one door, such as an account, and by one, such as an address."""

    what: str
    at_door: int
    by_one: int
    within: timedelta = timedelta(minutes=5)


SIGNING_IN = Bound("sign in", at_door=5, by_one=30)
SIGNING_IN_FROM_KNOWN_DEVICE = Bound("sign in known", at_door=10, by_one=10)
ASKING_FOR_MAIL = Bound("reset", at_door=5, by_one=20)
CHANGING_PASSWORD = Bound("password", at_door=10, by_one=10)


class Attempt:
    """One try while it is looked at."""

    def __init__(self, counted: Try) -> None:
        self._counted = counted

    def came_out_well(self) -> None:
        """Take it out of the count."""
        self._counted.delete()


def attempt(bound: Bound, door: str, by: str) -> Attempt:
    """Count a try. Raises TriedTooOften where there were as many already as the bound allows.

    One that is turned away counts at no door, so that a door opens again however long others go on; it counts for
    whoever tries, until they are turned away themselves.
    """
    now = timezone.now()
    Try.objects.filter(at__lt=now - Try.KEPT).delete()
    counted = Try.objects.create(what=bound.what, at_door=_hash(door), by=_hash(by), at=now)
    recent = Try.objects.filter(what=bound.what, at__gt=now - bound.within)
    if recent.filter(by=counted.by).count() > bound.by_one:
        counted.delete()
        raise TriedTooOften(by_one=True)
    if recent.filter(at_door=counted.at_door).count() > bound.at_door:
        counted.at_door = ""
        counted.save(update_fields=["at_door"])
        raise TriedTooOften(by_one=False)
    return Attempt(counted)


def _hash(text: str) -> str:
    """What is kept of who or what somebody typed; by the server's key, so that it cannot be found by guessing."""
    return salted_hmac(__name__, text, algorithm="sha256").hexdigest()
