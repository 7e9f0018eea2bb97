"""What readers say scene by scene, and how far each has come."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import models
from django.db.models import Exists, Q

from review.readers.models import Reader
from review.records import Record

if TYPE_CHECKING:
    from review.people.models import Member

MOST_WHY = 240  # characters


class ClarityWord(models.TextChoices):
    """A clarity mark: a reader's word on a scene, given at its end."""

    CLEAR = "clear", "Clear"
    LOST = "lost", "Lost me"
    SLOW = "slow", "Slow"


class SceneRead(models.Model):
    """How far a reader has come with one scene, by its ordinal in the draft: the seconds that it was on their screen,
    and when it counted as read; `by_hand` is true where they said so themselves."""

    reader = models.ForeignKey("review.Reader", on_delete=models.PROTECT, related_name="scenes_read")
    scene = models.PositiveIntegerField()
    seconds = models.PositiveIntegerField(default=0)
    read_at = models.DateTimeField(null=True, blank=True)
    by_hand = models.BooleanField(default=False)

    class Meta:
        ordering = ["scene"]
        constraints = [models.UniqueConstraint(fields=["reader", "scene"], name="one_progress_a_scene")]
        indexes = [models.Index(fields=["read_at"])]

    def __str__(self) -> str:
        return f"Scene {self.scene}, {self.seconds} s"


class ClarityMarkQuerySet(models.QuerySet["ClarityMark"]):
    def standing(self) -> ClarityMarkQuerySet:
        """Those that neither another mark replaced nor their reader took back."""
        return self.filter(replaced_at=None)

    def visible_to(self, member: Member) -> ClarityMarkQuerySet:
        """Those a member may see: a writer all; whoever reads alone their own; other readers those of their reading."""
        return self.filter(seen_by(member))


def seen_by(member: Member) -> Q:
    """Of what readers said in readings, what a member may see of it: it is asked of records that have a `reader`."""
    in_production = Q(reader__reading__production_id=member.production_id, reader__reading__draft__withdrawn_at=None)
    if member.is_writer:
        return in_production
    theirs = Reader.objects.in_it().filter(member=member).values("reading")
    others = Q(~Exists(Reader.objects.alone_as(member)), reader__reading__in=theirs)
    return in_production & (Q(reader__member=member) | others)


class ClarityMark(Record):
    """What a reader said at the end of a scene, by its ordinal in the draft. One that was replaced, or taken back, is
    kept."""

    reader = models.ForeignKey("review.Reader", on_delete=models.PROTECT, related_name="marks")
    scene = models.PositiveIntegerField()
    mark = models.CharField(max_length=10, choices=ClarityWord)
    why = models.CharField(max_length=MOST_WHY, blank=True)
    replaced_at = models.DateTimeField(null=True, blank=True)

    objects = ClarityMarkQuerySet.as_manager()

    class Meta:
        ordering = ["scene", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["reader", "scene"], condition=Q(replaced_at=None), name="one_mark_stands_on_a_scene"
            )
        ]

    def __str__(self) -> str:
        return f"{self.get_mark_display()} on scene {self.scene}"
