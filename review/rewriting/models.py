"""The working draft: the next draft while it is being written, scene by scene, and the wordings taken into it."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from review.records import PostedRecord, Record


class WorkingDraft(PostedRecord):
    """What a writer makes of `base` until it is published; a production has one that is open at most.

    Its text is that of its scenes that are not cut, joined in order. It begins with the base's text, or with that of
    the older draft that was `restored`.
    """

    production = models.ForeignKey("review.Production", on_delete=models.PROTECT, related_name="working_drafts")
    base = models.ForeignKey("review.Draft", on_delete=models.PROTECT, related_name="working_drafts")
    restored = models.ForeignKey(
        "review.Draft", on_delete=models.PROTECT, null=True, blank=True, related_name="restored_in"
    )
    begun_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="working_drafts")
    published_as = models.OneToOneField(
        "review.Draft", on_delete=models.PROTECT, null=True, blank=True, related_name="written_as"
    )
    set_aside_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["production"],
                condition=Q(published_as=None, set_aside_at=None),
                name="one_open_working_draft",
            )
        ]

    def __str__(self) -> str:
        return f"Working draft from draft {self.base.number}"

    @property
    def is_open(self) -> bool:
        return self.published_as_id is None and self.set_aside_at is None


class WorkingScene(Record):
    """A scene of a working draft, from its heading to the line before the next; what stands before the first heading
    (the title page with it) is one of its own. `text` and `version` are those of its latest `SceneText`. A scene that
    was cut keeps its place and its words. `ordinal` is its scene in the text that the draft began with, 0 for what
    stands before the first, None for one added since."""

    working = models.ForeignKey(WorkingDraft, on_delete=models.PROTECT, related_name="scenes")
    position = models.PositiveIntegerField()
    ordinal = models.PositiveIntegerField(null=True, blank=True)
    text = models.TextField(blank=True)
    version = models.PositiveIntegerField(default=1)
    cut_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["position", "id"]

    def __str__(self) -> str:
        return f"Scene at {self.position}"


class SceneText(PostedRecord):
    """One saved text of a working scene, so that no words are lost: `version` counts from 1, the text it began with.
    `as_typed` says that it was saved by itself, while somebody was typing."""

    scene = models.ForeignKey(WorkingScene, on_delete=models.PROTECT, related_name="texts")
    version = models.PositiveIntegerField()
    text = models.TextField(blank=True)
    saved_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="scene_texts")
    saved_at = models.DateTimeField(auto_now=True)
    as_typed = models.BooleanField(default=False)

    class Meta:
        ordering = ["version"]
        constraints = [models.UniqueConstraint(fields=["scene", "version"], name="scene_texts_in_order")]

    def __str__(self) -> str:
        return f"Version {self.version}"


class DownloadedText(Record):
    """A text of a working draft as a writer took it away: what it is merged by when it is put back."""

    working = models.ForeignKey(WorkingDraft, on_delete=models.PROTECT, related_name="downloads")
    text = models.TextField(blank=True)
    sha256 = models.CharField(max_length=64)
    taken_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="working_downloads")
    taken_at = models.DateTimeField(auto_now=True)

    class Meta:
        ordering = ["-taken_at", "-id"]
        constraints = [
            models.UniqueConstraint(fields=["working", "sha256", "taken_by"], name="one_download_of_a_text_a_writer")
        ]

    def __str__(self) -> str:
        return f"Taken away {self.taken_at:%Y-%m-%d %H:%M}"


class TakenWording(PostedRecord):
    """An accepted note's wording that was put into a working draft; `undone_at` says that it was taken out again, or
    that its words were left in as the writer's own when the note was decided otherwise."""

    working = models.ForeignKey(WorkingDraft, on_delete=models.PROTECT, related_name="taken_wordings")
    note = models.ForeignKey("review.Note", on_delete=models.PROTECT, related_name="taken_wordings")
    decision = models.ForeignKey("review.Decision", on_delete=models.PROTECT, related_name="taken_wordings")
    scene = models.ForeignKey(WorkingScene, on_delete=models.PROTECT, related_name="taken_wordings")
    before = models.TextField(help_text="The scene's text before it was taken.")
    after = models.TextField(help_text="The scene's text with it.")
    taken_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="taken_wordings")
    undone_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(
                fields=["working", "note"], condition=Q(undone_at=None), name="a_wording_is_taken_once"
            )
        ]

    def __str__(self) -> str:
        return f"Wording of note {self.note_id}"


class WrittenIn(PostedRecord):
    """That a published draft answers an accepted note, by the decision that accepted it."""

    decision = models.OneToOneField("review.Decision", on_delete=models.PROTECT, related_name="written_in")
    draft = models.ForeignKey("review.Draft", on_delete=models.PROTECT, related_name="answers")
    said_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="answers_given")

    class Meta:
        verbose_name_plural = "written in"

    def __str__(self) -> str:
        return f"Written in, draft {self.draft.number}"
