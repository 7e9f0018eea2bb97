"""Talks: when and where a writer talks a draft over with members, and who is asked."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from django.db import models
from django.utils import timezone

from review.records import PostedRecord

if TYPE_CHECKING:
    from datetime import datetime

    from review.people.models import Member

MOST_PLACE = 200  # characters


class TalkQuerySet(models.QuerySet["Talk"]):
    def known_to(self, member: Member) -> TalkQuerySet:
        """The production's talks that there are for a member: all for writers, for others those they are asked to. A
        withdrawn draft takes its talks along."""
        talks = self.filter(production_id=member.production_id, draft__withdrawn_at=None)
        return talks if member.is_writer else talks.filter(members=member)

    def to_come(self) -> TalkQuerySet:
        """Those that are to be held, the next one first."""
        return self.filter(called_off_at=None, starts_at__gt=timezone.now()).order_by("starts_at", "pk")


class Talk(PostedRecord):
    """A talk about one draft, of so many `minutes` from `starts_at`, with the members who are asked beside the writers.

    `sequence` counts from 0 how often its date, its place or its people were changed, as RFC 5545, 3.8.7.4, has it.
    """

    production = models.ForeignKey("review.Production", on_delete=models.PROTECT, related_name="talks")
    draft = models.ForeignKey("review.Draft", on_delete=models.PROTECT, related_name="talks")
    called_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="talks_called")
    members = models.ManyToManyField("review.Member", related_name="talks")
    starts_at = models.DateTimeField()
    minutes = models.PositiveSmallIntegerField()
    place = models.CharField(max_length=MOST_PLACE, blank=True)
    sequence = models.PositiveIntegerField(default=0)
    called_off_at = models.DateTimeField(null=True, blank=True)

    objects = TalkQuerySet.as_manager()

    class Meta:
        ordering = ["-starts_at", "-id"]

    def __str__(self) -> str:
        return f"Talk about draft {self.draft.number}"

    @property
    def ends_at(self) -> datetime:
        return self.starts_at + timedelta(minutes=self.minutes)

    @property
    def is_past(self) -> bool:
        return self.ends_at < timezone.now()
