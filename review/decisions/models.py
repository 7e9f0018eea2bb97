"""Decisions: what the writer made of a note. A new decision stands on top of the earlier ones, which are kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import models

from review.decisions.accepting import accepting_note
from review.notes.markdown import render_markdown
from review.records import PostedRecord

if TYPE_CHECKING:
    from django.utils.safestring import SafeString

    from review.drafts.models import Draft
    from review.rewriting.wording_models import WrittenIn


class Outcome(models.TextChoices):
    ACCEPTED = "accepted", "Accepted"
    DECLINED = "declined", "Declined"
    PARKED = "parked", "Parked"
    REOPENED = "reopened", "Opened again"


class Decision(PostedRecord):
    """`ordinal` counts a note's decisions from 1; the highest stands, and `reopened` leaves the note undecided.

    `together` is shared by those that were made of several notes in one go. `undoes` is the decision that this one took
    back, so that the note is again as it was before that.
    """

    note = models.ForeignKey("review.Note", on_delete=models.PROTECT, related_name="decisions")
    ordinal = models.PositiveIntegerField()
    outcome = models.CharField(max_length=10, choices=Outcome)
    reason = models.TextField(blank=True)
    decided_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="decisions")
    together = models.UUIDField(null=True, blank=True, db_index=True)
    undoes = models.OneToOneField("self", on_delete=models.PROTECT, null=True, blank=True, related_name="undone_by")

    class Meta:
        ordering = ["ordinal"]
        constraints = [models.UniqueConstraint(fields=["note", "ordinal"], name="decisions_of_a_note_in_order")]

    def __str__(self) -> str:
        return self.get_outcome_display()

    @property
    def word(self) -> str:
        """What it is called, which depends on what its note is."""
        return accepting_note(self.note).word if self.outcome == Outcome.ACCEPTED else self.get_outcome_display()

    @property
    def answered_in(self) -> Draft | None:
        """The draft that its note is written in, if one is that stands."""
        written_in: WrittenIn | None = getattr(self, "written_in", None)
        return written_in.draft if written_in and written_in.draft.withdrawn_at is None else None

    @property
    def reason_html(self) -> SafeString:
        """The reason, which is light Markdown, as safe HTML."""
        return render_markdown(self.reason)
