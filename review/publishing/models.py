"""A text that was read and is held, byte for byte, until its writer has seen what it would be and puts it up."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING, Any

from django.db import models
from django.db.models import Q
from django.utils import timezone

from review.records import Record
from screenplay.intake import Intake

if TYPE_CHECKING:
    from review.people.models import Member

HELD_FOR = timedelta(days=1)


class HeldDraftQuerySet(models.QuerySet["HeldDraft"]):
    def of(self, member: Member) -> HeldDraftQuerySet:
        """Those that a member chose themself: what somebody has not put up is nobody else's to see."""
        return self.filter(held_by=member)

    def waiting(self) -> HeldDraftQuerySet:
        """Those that are not up yet, and not too old."""
        return self.filter(published_as=None, created_at__gt=timezone.now() - HELD_FOR)

    def let_go(self, member: Member) -> None:
        """Drop what a member holds, and what anybody has held for too long."""
        old = Q(held_by=member) | Q(created_at__lte=timezone.now() - HELD_FOR)
        self.filter(old, published_as=None).delete()


class HeldDraft(Record):
    """A text, how it came, and its file's name. Once it is up it is empty, and `published_as` the draft it became, so
    that its form sent again finds that draft."""

    held_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="held_drafts")
    text = models.TextField()
    encoding = models.CharField(max_length=20)
    bom = models.BooleanField()
    filename = models.CharField(max_length=200, blank=True)
    published_as = models.OneToOneField(
        "review.Draft", on_delete=models.PROTECT, null=True, blank=True, related_name="held_as"
    )

    objects = HeldDraftQuerySet.as_manager()

    def __str__(self) -> str:
        return f"Held: {self.filename or 'a pasted text'}"

    @property
    def intake(self) -> Intake:
        """The text as it was read."""
        return Intake(self.text, self.encoding, "\ufeff".encode(self.encoding) if self.bom else b"")

    @classmethod
    def of_intake(cls, by: Member, intake: Intake, **fields: Any) -> HeldDraft:
        """One not yet stored."""
        return cls(held_by=by, text=intake.text, encoding=intake.encoding, bom=bool(intake.bom), **fields)
