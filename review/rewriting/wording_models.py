"""The wordings taken into a working draft, and what of the accepted notes a published draft has written in."""

from __future__ import annotations

from django.db import models
from django.db.models import Exists, F, OuterRef, Q, Subquery

from review.records import PostedRecord
from review.rewriting.models import SceneText, WorkingDraft, WorkingScene
from screenplay.next_draft import join_words


class TakenWordingQuerySet(models.QuerySet["TakenWording"]):
    def of_open_draft(self) -> TakenWordingQuerySet:
        """Those of an open working draft, in it or undone, with it and their scenes."""
        is_open = {"working__published_as": None, "working__set_aside_at": None}
        return self.select_related("working__base", "scene").filter(**is_open)

    def now_in(self) -> TakenWordingQuerySet:
        """Those that are in an open working draft, with it and their scenes."""
        return self.of_open_draft().filter(undone_at=None)


class TakenWording(PostedRecord):
    """An accepted note's wording that was put into a working draft; `undone_at` says that it was taken out again, or
    that its words were left in as the writer's own, as `left_in` says, when the note was decided otherwise, which
    `undone_with` did."""

    working = models.ForeignKey(WorkingDraft, on_delete=models.PROTECT, related_name="taken_wordings")
    note = models.ForeignKey("review.Note", on_delete=models.PROTECT, related_name="taken_wordings")
    decision = models.ForeignKey("review.Decision", on_delete=models.PROTECT, related_name="taken_wordings")
    scene = models.ForeignKey(WorkingScene, on_delete=models.PROTECT, related_name="taken_wordings")
    before = models.TextField(help_text="The scene's text before it was taken.")
    after = models.TextField(help_text="The scene's text with it.")
    taken_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="taken_wordings")
    undone_at = models.DateTimeField(null=True, blank=True)
    undone_with = models.ForeignKey(
        "review.Decision", on_delete=models.PROTECT, null=True, blank=True, related_name="wordings_undone"
    )
    left_in = models.BooleanField(default=False)

    objects = TakenWordingQuerySet.as_manager()

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(
                fields=["working", "note"], condition=Q(undone_at=None), name="a_wording_is_taken_once"
            )
        ]

    def __str__(self) -> str:
        return f"Wording of note {self.note_id}"

    @property
    def mark(self) -> int:
        """What stands for it among the origins of lines, below all numbers of lines."""
        return -self.pk

    @property
    def is_still_in(self) -> bool:
        """Whether nobody has written over its words since, or taken them out by hand."""
        return join_words(self.after, self.scene.text, self.before) not in {None, self.scene.text}

    def twins(self) -> models.QuerySet[TakenWording]:
        """Other taken wordings that made the very same of the same scene."""
        same = {"working": self.working_id, "scene": self.scene_id, "before": self.before, "after": self.after}
        return TakenWording.objects.filter(undone_at=None, **same).exclude(pk=self.pk)


def holds_wordings_alone() -> Q:
    """Asked of working drafts: whether one had wordings in it that were taken out again, and nothing else of anybody's.

    Its scenes read as they did at first and stand as they stood, and no other text was ever saved of one than with a
    wording and without it. Nobody took its text away, to be put back.
    """
    ever = TakenWording.objects.filter(working=OuterRef("pk"))
    brought = TakenWording.objects.filter(scene=OuterRef("scene")).filter(
        Q(before=OuterRef("text")) | Q(after=OuterRef("text"))
    )
    saved = SceneText.objects.filter(scene__working=OuterRef("pk"), version__gt=1).filter(~Exists(brought))
    at_first = SceneText.objects.filter(scene=OuterRef("pk"), version=1).values("text")
    scenes = WorkingScene.objects.filter(working=OuterRef("pk")).annotate(at_first=Subquery(at_first))
    other = scenes.filter(~Q(text=F("at_first")) | ~Q(cut_at=None) | Q(ordinal=None) | ~Q(position=F("ordinal")))
    is_out = Exists(ever) & ~Exists(ever.filter(undone_at=None))
    return Q(is_out, ~Exists(saved), ~Exists(other), downloads=None)


class WrittenIn(PostedRecord):
    """That a published draft answers an accepted note, by the decision that accepted it."""

    decision = models.OneToOneField("review.Decision", on_delete=models.PROTECT, related_name="written_in")
    draft = models.ForeignKey("review.Draft", on_delete=models.PROTECT, related_name="answers")
    said_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="answers_given")

    class Meta:
        verbose_name_plural = "written in"

    def __str__(self) -> str:
        return f"Written in, draft {self.draft.number}"
