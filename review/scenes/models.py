"""What a production says of its scenes: words that departments marked, story days that were set, orders made by
hand."""

from __future__ import annotations

from django.db import models

from review.people.models import Department
from review.records import PostedRecord, Record
from screenplay.breakdown import SoughtWord

MOST_MARKED = 80  # characters
LAST_DAY = 9_999  # of a story


class MarkedWord(PostedRecord):
    """A word, or a few, marked for a department: known wherever it stands, in this draft and in later ones."""

    production = models.ForeignKey("review.Production", on_delete=models.PROTECT, related_name="marked_words")
    made_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="words_marked")
    words = models.CharField(max_length=MOST_MARKED)
    department = models.CharField(max_length=20, choices=Department)
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["department", "words"]

    def __str__(self) -> str:
        return f"{self.words}: {self.get_department_display()}"

    @property
    def as_sought(self) -> SoughtWord:
        return SoughtWord(self.words, self.department)


class StoryDay(Record):
    """The day of the story that a scene of a draft was set to, by its ordinal there; None takes an earlier one back.
    The latest of a scene stands; in later drafts it follows the scene."""

    production = models.ForeignKey("review.Production", on_delete=models.PROTECT, related_name="story_days")
    draft = models.ForeignKey("review.Draft", on_delete=models.PROTECT, related_name="story_days")
    set_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="story_days_set")
    scene = models.PositiveIntegerField()
    day = models.PositiveIntegerField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"Scene {self.scene}, day {self.day}"


class HandOrder(Record):
    """An order of a draft's scenes that somebody made, by their ordinals there; none takes an earlier one back. The
    latest stands; later drafts follow it."""

    production = models.ForeignKey("review.Production", on_delete=models.PROTECT, related_name="hand_orders")
    draft = models.ForeignKey("review.Draft", on_delete=models.PROTECT, related_name="hand_orders")
    made_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="hand_orders_made")
    scenes = models.JSONField(default=list)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"Order of draft {self.draft.number}"
