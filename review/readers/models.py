"""Readings of drafts and who reads in them, as far as the notes have to know: whose words are kept from whom, and until
when. What a reader says at the end of a scene, and what the writer learns of it, is above the notes, in `readings`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import models
from django.utils import timezone

from review.access import READS_ALONE, Deed, Role, may
from review.records import PostedRecord, Record

if TYPE_CHECKING:
    from datetime import date, datetime

    from review.people.models import Member

MOST_LOOK_FOR = 2_000  # characters


class ReadingQuerySet(models.QuerySet["Reading"]):
    def standing(self) -> ReadingQuerySet:
        """Those of drafts that were not withdrawn: a withdrawn draft takes its readings along until it is up again."""
        return self.filter(draft__withdrawn_at=None)

    def open(self) -> ReadingQuerySet:
        """Those that were not closed."""
        return self.standing().filter(closed_at=None)

    def known_to(self, member: Member) -> ReadingQuerySet:
        """The production's readings that there are for a member: all of them for writers, for others those they read
        in."""
        readings = self.standing().filter(production_id=member.production_id)
        if member.is_writer:
            return readings
        return readings.filter(pk__in=Reader.objects.in_it().filter(member=member).values("reading"))

    def followed_by(self, member: Member) -> ReadingQuerySet:
        """Those of which a member may see how far their readers are, beside those that there are for them."""
        if not may(member, Deed.FOLLOW_READINGS):
            return self.known_to(member)
        return self.standing().filter(production_id=member.production_id)


class Reading(PostedRecord):
    """A round in which members read one draft, to `until` as they were asked, with what to look for.

    It is of its draft for good, whatever draft comes after. Past its date it is still open: it ends when a writer
    closes it. While it `is_blind` and open, each reader reads alone until they have finished theirs.
    """

    production = models.ForeignKey("review.Production", on_delete=models.PROTECT, related_name="readings")
    draft = models.ForeignKey("review.Draft", on_delete=models.PROTECT, related_name="readings")
    opened_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="readings_opened")
    until = models.DateField()
    look_for = models.TextField(blank=True)
    is_blind = models.BooleanField(default=True)
    closed_at = models.DateTimeField(null=True, blank=True)

    objects = ReadingQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]

    def __str__(self) -> str:
        return f"Reading of draft {self.draft.number}"

    @property
    def is_open(self) -> bool:
        return self.closed_at is None

    @property
    def is_overdue(self) -> bool:
        """Whether its date is past and it is open still."""
        last: date = self.until
        return self.is_open and last < timezone.localdate()


class ReaderQuerySet(models.QuerySet["Reader"]):
    def in_it(self) -> ReaderQuerySet:
        """Those who were not taken off their reading."""
        return self.filter(taken_off_at=None)

    def waited_for(self) -> ReaderQuerySet:
        """Those that their reading waits for: nobody waits for whoever has finished, was removed from the production
        or became a writer, who sees everything."""
        return self.in_it().filter(finished_at=None, member__removed_at=None).exclude(member__role=Role.WRITER)

    def reading_alone(self) -> ReaderQuerySet:
        """Those from whom the words of others are kept for now."""
        return self.filter(READS_ALONE)

    def alone_as(self, member: Member) -> ReaderQuerySet:
        """A member's places in readings that keep the words of others from them for now; a writer has none."""
        return self.none() if member.is_writer else self.reading_alone().filter(member=member)

    def keeping_from(self, member: Member) -> Reader | None:
        """The member's place in the reading that keeps the words of others from them for now, of several in the one
        that ends first, with its reading and draft."""
        return self.alone_as(member).select_related("reading__draft").order_by("reading__until", "reading__id").first()

    def stand_open(self, at: datetime) -> None:
        """Say of those whose reading is over for them, or keeps nothing from anybody, that the words of others stand
        open to them from now on, unless they did before: not where another reading keeps them from the same member."""
        goes_on = models.Q(reading__is_blind=True, finished_at=None, taken_off_at=None, reading__closed_at=None)
        alone = Reader.objects.reading_alone().values("member")
        self.filter(~goes_on, others_open_at=None).exclude(member__in=alone).update(others_open_at=at)

    def heard_others(self, member: Member, before: Reading) -> bool:
        """Whether the words of others on a reading's draft stood open to a member in a reading before it."""
        earlier = self.filter(member=member, reading__draft=before.draft_id, reading__lt=before.pk)
        return earlier.exclude(others_open_at=None).exists()


class Reader(Record):
    """A member who reads in a reading. `came_late` is true of those who were added after it was opened.

    `others_open_at` is when the words of others first stood open to them: what they say after that, they do not say on
    their own. `left_off` is the scene, by its ordinal in the draft, that they were last in. `shares_time` lets others
    see how long they took; it is theirs alone to say.
    """

    reading = models.ForeignKey(Reading, on_delete=models.PROTECT, related_name="readers")
    member = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="reads_in")
    came_late = models.BooleanField(default=False)
    begun_at = models.DateTimeField(null=True, blank=True)
    finished_at = models.DateTimeField(null=True, blank=True)
    others_open_at = models.DateTimeField(null=True, blank=True)
    reminded_at = models.DateTimeField(null=True, blank=True)
    taken_off_at = models.DateTimeField(null=True, blank=True)
    left_off = models.PositiveIntegerField(null=True, blank=True)
    shares_time = models.BooleanField(default=False)

    objects = ReaderQuerySet.as_manager()

    class Meta:
        ordering = ["member__person__name"]
        constraints = [models.UniqueConstraint(fields=["reading", "member"], name="one_reader_a_member")]

    def __str__(self) -> str:
        return f"{self.member} in {self.reading}"

    @property
    def name(self) -> str:
        return self.member.name
