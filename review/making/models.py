"""What is being made for a member by the process apart: what it is, how far it is, how it ended, what came of it."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING, TypedDict

from django.db import models
from django.db.models import Q
from django.utils import timezone

from review.access import Role
from review.readers.models import Reader
from review.records import Record

if TYPE_CHECKING:
    from review.people.models import Member

KEPT_FOR = timedelta(minutes=10)  # after its end: for as long it is handed over, and what went wrong is told
MOST_BYTES = 128 * 1024 * 1024  # of all that is kept to be handed over
# Longer than the process apart is let work on anything, and than anything waits for its turn there: not heard of for so
# long, it has died.
SILENT_FOR = timedelta(minutes=4)
WAITS_FOR = timedelta(minutes=20)
MOST_WORDS = 120  # characters


class SeesAs(TypedDict):
    """What decides whose words a member may read. The fields are named as the making's."""

    role: str
    reads_alone: bool


def sees_as(member: Member) -> SeesAs:
    return {"role": member.role, "reads_alone": Reader.objects.alone_as(member).exists()}


class MakingQuerySet(models.QuerySet["Making"]):
    def of(self, member: Member) -> MakingQuerySet:
        """A member's own."""
        return self.filter(by=member)

    def under_way(self) -> MakingQuerySet:
        return self.filter(ended_at=None)

    def made_lately(self, address: str) -> bool:
        """Whether what is asked for at an address was made within the time for which such things are kept."""
        since = timezone.now() - KEPT_FOR
        return self.filter(address=address, ending=Making.Ending.MADE, ended_at__gte=since).exists()

    def make_room(self) -> None:
        """Let go of what ended a while ago, and of the oldest of what is too much to keep."""
        self.filter(ended_at__lt=timezone.now() - KEPT_FOR).delete()
        left, sizes = MOST_BYTES, self.exclude(ended_at=None).order_by("-ended_at", "-pk").values_list("pk", "size")
        for key, size in list(sizes):
            left -= size
            if left < 0:
                self.filter(pk=key).delete()


class Making(Record):
    """Something that takes long, as an answer to what a member asked at `address`; one of it is under way at a time.

    `what` says what it is, `doing` what is done for it just now, and `done` of `total` how far that is. `heard_at` is
    when that was last said. The answer, once there is one, is kept whole. `role` and `reads_alone` are its
    owner's when work on it began: they decide what may be in it.
    """

    class Ending(models.TextChoices):
        MADE = "made"
        FAILED = "failed"
        GIVEN_UP = "given up"

    production = models.ForeignKey("review.Production", on_delete=models.CASCADE, related_name="makings")
    by = models.ForeignKey("review.Member", on_delete=models.CASCADE, related_name="makings")
    role = models.CharField(max_length=10, choices=Role)
    reads_alone = models.BooleanField()
    deed = models.CharField(max_length=80)
    address = models.TextField()
    is_sent = models.BooleanField(help_text="Whether a form was sent, so that asking again is for who filled it in.")
    what = models.CharField(max_length=MOST_WORDS)
    back = models.TextField(help_text="The address of the page that it was asked for on.")
    doing = models.CharField(max_length=MOST_WORDS, blank=True)
    done = models.PositiveIntegerField(default=0)
    total = models.PositiveIntegerField(default=0)
    begun_at = models.DateTimeField(null=True, blank=True)
    heard_at = models.DateTimeField(default=timezone.now)
    ended_at = models.DateTimeField(null=True, blank=True)
    ending = models.CharField(max_length=10, choices=Ending, blank=True)
    status = models.PositiveSmallIntegerField(default=0)
    headers = models.JSONField(default=dict)
    content = models.BinaryField(null=True, blank=True)
    size = models.PositiveIntegerField(default=0)

    objects = MakingQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["by", "address"], condition=Q(ended_at=None), name="one_making_at_a_time")
        ]

    def __str__(self) -> str:
        return self.what

    @property
    def is_made(self) -> bool:
        return self.ending == self.Ending.MADE

    def is_for(self, member: Member) -> bool:
        """Whether its owner may read what they might when work on it began, no less and no more."""
        return sees_as(member) == {"role": self.role, "reads_alone": self.reads_alone}

    @property
    def is_silent(self) -> bool:
        """Whether nothing was heard of it for so long that whoever made it must have died."""
        since = SILENT_FOR if self.begun_at else WAITS_FOR
        return self.ended_at is None and self.heard_at < timezone.now() - since

    @property
    def seconds(self) -> int:
        """For how long it has been asked for."""
        end: datetime = self.ended_at or timezone.now()
        return int((end - self.created_at).total_seconds())
