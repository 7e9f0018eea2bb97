"""How a member likes to look at the notes: in a compact list, or each beside its lines of the script."""

from __future__ import annotations

from django.db import models


class Look(models.TextChoices):
    COMPACT = "compact", "Compact"
    PAGES = "pages", "Beside the script"


class NotesLook(models.Model):
    """The look that a member chose; of one who has not chosen there is none."""

    member = models.OneToOneField("review.Member", on_delete=models.PROTECT, related_name="notes_look")
    look = models.CharField(max_length=10, choices=Look)

    def __str__(self) -> str:
        return f"{self.get_look_display()} for {self.member}"
