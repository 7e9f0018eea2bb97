"""Notes on a paper's paragraphs, the replies under them, what was decided, and where they stand in later versions."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.db import models
from django.db.models import Exists, OuterRef, Q
from django.utils import timezone

from review.notes.models import Audience, Fate, NoteKind
from review.notes.open_words import OfReaderAlone, OpenNotes, OpenReplies
from review.papers.models import PaperVersion, WorldPaper
from review.records import PostedRecord

if TYPE_CHECKING:
    from collections.abc import Mapping

    from review.papers.following import ParagraphFate
    from review.people.models import Member


class PaperNoteQuerySet(OpenNotes["PaperNote"]):
    for_all = Q(audience=Audience.EVERYONE)

    def visible_to(self, member: Member) -> PaperNoteQuerySet:
        """Those on papers that the member may read, as `open_to` says."""
        return self.filter(version__paper__in=WorldPaper.objects.visible_to(member)).open_to(member)

    def standing(self) -> PaperNoteQuerySet:
        """Those that their author has not taken back."""
        return self.filter(withdrawn_at=None)

    def on_standing_papers(self) -> PaperNoteQuerySet:
        """Those on papers that are not withdrawn: writers still read the others."""
        return self.filter(version__paper__withdrawn_at=None)

    def answered(self) -> PaperNoteQuerySet:
        """Those that somebody else has replied to, or that were decided: their words were taken at their word."""
        replies = PaperReply.objects.filter(note=OuterRef("pk")).exclude(author=OuterRef("author"))
        return self.filter(Exists(replies) | Exists(PaperDecision.objects.filter(note=OuterRef("pk"))))


class PaperNote(OfReaderAlone, PostedRecord):
    """`paragraph` counts those of its version from 1; `quoted` is the paragraph. `text_number` counts its texts from 1:
    the one that stands is here, those before it are its `earlier_texts`."""

    version = models.ForeignKey(PaperVersion, on_delete=models.PROTECT, related_name="notes")
    paragraph = models.PositiveIntegerField()
    quoted = models.TextField()
    author = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="paper_notes")
    kind = models.CharField(max_length=10, choices=NoteKind)
    body = models.TextField()
    audience = models.CharField(max_length=10, choices=Audience, default=Audience.EVERYONE)
    text_number = models.PositiveIntegerField(default=1)
    changed_at = models.DateTimeField(null=True, blank=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    objects = PaperNoteQuerySet.as_manager()

    class Meta:
        ordering = ["paragraph", "id"]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} on paragraph {self.paragraph}"

    def is_answered(self) -> bool:
        """Whether somebody else has replied, or it was decided: then its words can be corrected alone."""
        return PaperNote.objects.filter(pk=self.pk).answered().exists()

    def said_at_first(self) -> Mapping[str, Any]:
        return self.earlier_texts.values("kind", "body", "audience").first() or {}


class EarlierPaperText(models.Model):
    """What a note said before its author changed it. One that somebody had answered is shown beside the correction; one
    that nobody had is kept."""

    note = models.ForeignKey(PaperNote, on_delete=models.PROTECT, related_name="earlier_texts")
    number = models.PositiveIntegerField()
    kind = models.CharField(max_length=10, choices=NoteKind)
    body = models.TextField()
    audience = models.CharField(max_length=10, choices=Audience)
    was_answered = models.BooleanField()
    replaced_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["number"]
        constraints = [models.UniqueConstraint(fields=["note", "number"], name="texts_of_a_paper_note_in_order")]

    def __str__(self) -> str:
        return f"Text {self.number} of a note on a paper"


class PaperPlace(models.Model):
    """Where a note stands in a later version of its paper; without a paragraph where that is gone."""

    note = models.ForeignKey(PaperNote, on_delete=models.PROTECT, related_name="places")
    version = models.ForeignKey(PaperVersion, on_delete=models.PROTECT, related_name="places")
    fate = models.CharField(max_length=10, choices=Fate)
    paragraph = models.PositiveIntegerField(null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["note", "version"], name="one_place_a_version"),
            models.CheckConstraint(
                condition=Q(fate=Fate.GONE, paragraph=None) | (~Q(fate=Fate.GONE) & Q(paragraph__gte=1)),
                name="only_gone_paragraphs_have_no_place",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_fate_display()} in version {self.version.number}"

    @classmethod
    def of(cls, note: PaperNote, version: PaperVersion, fate: ParagraphFate) -> PaperPlace:
        """A place, not yet stored, of a note whose paragraph was followed into a version."""
        paragraph = None if fate.to is None else fate.to + 1
        return cls(note=note, version=version, fate=fate.fate, paragraph=paragraph)


class PaperReplyQuerySet(OpenReplies["PaperReply"]):
    def visible_to(self, member: Member) -> PaperReplyQuerySet:
        """Those under notes that the member may read, as `open_to` says."""
        return self.filter(note__in=PaperNote.objects.visible_to(member).order_by()).open_to(member)


class PaperReply(PostedRecord):
    note = models.ForeignKey(PaperNote, on_delete=models.PROTECT, related_name="replies")
    author = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="paper_replies")
    body = models.TextField()
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    objects = PaperReplyQuerySet.as_manager()

    class Meta:
        ordering = ["id"]
        verbose_name_plural = "paper replies"

    def __str__(self) -> str:
        return f"Reply by {self.author}"


class PaperOutcome(models.TextChoices):
    TAKEN_IN = "taken in", "Taken in"
    DECLINED = "declined", "Declined"
    PARKED = "parked", "Parked"


class PaperDecision(PostedRecord):
    """`ordinal` counts a note's decisions from 1; the highest stands."""

    note = models.ForeignKey(PaperNote, on_delete=models.PROTECT, related_name="decisions")
    ordinal = models.PositiveIntegerField()
    outcome = models.CharField(max_length=10, choices=PaperOutcome)
    reason = models.TextField(blank=True)
    decided_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="paper_decisions")

    class Meta:
        ordering = ["ordinal"]
        constraints = [models.UniqueConstraint(fields=["note", "ordinal"], name="decisions_of_a_paper_note_in_order")]

    def __str__(self) -> str:
        return self.get_outcome_display()
