"""Where each member last was in the script of each draft, and since when what others did is new to them."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from django.db import models, transaction
from django.utils import timezone

from review.access import Deed, refuse_elsewhere, refuse_unless
from review.drafts.models import Draft
from review.people.models import Member

if TYPE_CHECKING:
    from collections.abc import Iterable

VISIT_ENDS_AFTER = timedelta(minutes=30)  # without a word from the page


class Visit(models.Model):
    """A member's latest visit to the script of a draft: `line` is the source line at the head of their screen,
    `last_at` when they were last there. What others did after `seen_until` was not there at the visit before; None at
    the first, to which nothing is new."""

    member = models.ForeignKey(Member, on_delete=models.CASCADE, related_name="visits")
    draft = models.ForeignKey(Draft, on_delete=models.CASCADE, related_name="visits")
    line = models.PositiveIntegerField()
    seen_until = models.DateTimeField(null=True, blank=True)
    last_at = models.DateTimeField()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["member", "draft"], name="one_place_a_member_in_a_draft")]
        indexes = [models.Index(fields=["draft", "last_at"])]

    def __str__(self) -> str:
        return f"{self.member} at line {self.line} of {self.draft}"


def visits_of(member: Member) -> list[Visit]:
    """The member's visits to every draft, the latest last; one query."""
    return list(Visit.objects.filter(member=member).order_by("last_at"))


def line_left_at(visits: Iterable[Visit], draft: Draft) -> int | None:
    """The line at which a member was in a draft; None where they never were."""
    return next((visit.line for visit in visits if visit.draft_id == draft.pk), None)


def new_since(visits: list[Visit], now: datetime) -> datetime | None:
    """Since when what others do is new to a member who looks now: since the end of the visit before this one."""
    if not visits:
        return None
    latest = visits[-1]
    return latest.seen_until if now - latest.last_at <= VISIT_ENDS_AFTER else latest.last_at


@transaction.atomic
def be_at(member: Member, draft: Draft, line: int) -> Visit:
    """Note down that the member is at a line of the draft's script now.

    It is nobody else's business and stands in nobody's way: no lock is taken, and the log does not grow.
    """
    refuse_unless(member, Deed.READ)
    refuse_elsewhere(member, draft)
    now, visits = timezone.now(), visits_of(member)
    told = {"line": line, "seen_until": new_since(visits, now), "last_at": now}
    here = next((visit for visit in visits if visit.draft_id == draft.pk), None)
    if here is None:
        visit, _ = Visit.objects.update_or_create(member=member, draft=draft, defaults=told)
        return visit
    for name, value in told.items():
        setattr(here, name, value)
    here.save(update_fields=list(told))
    return here
