"""The working draft: the next draft while it is being written, scene by scene."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING, Any, Self

from django.db import models
from django.db.models import Q
from django.utils import timezone

from review.access import Deed, refuse_elsewhere
from review.productions.models import lock_for
from review.records import PostedRecord, Record
from screenplay.comparing import LineOrigins
from screenplay.fountain import split_lines
from screenplay.next_draft import end_with_blank_line, keep_line_ends, rewritten_lines

if TYPE_CHECKING:
    import uuid
    from collections.abc import Iterable

    from review.drafts.models import Draft
    from review.people.models import Member

ONE_SITTING = timedelta(minutes=10)  # what somebody types on within is told, and logged, once


class WorkingIsClosed(Exception):
    """The working draft has been published or set aside, so that nothing is written into it."""


class WorkingDraftQuerySet(models.QuerySet["WorkingDraft"]):
    """Asked of one production's working drafts, as `production.working_drafts`."""

    def open_now(self) -> WorkingDraft | None:
        """The one that is being written; None where nobody has begun one."""
        found = self.select_related("base").filter(published_as=None, set_aside_at=None).first()
        if found is not None:
            found.base.production = found.production
        return found


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

    objects = WorkingDraftQuerySet.as_manager()

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
    def begun_from(self) -> Draft:
        """The draft whose text it began with, or goes on from."""
        return self.restored or self.base

    @property
    def is_open(self) -> bool:
        return self.published_as_id is None and self.set_aside_at is None

    def lock_for(self, by: Member) -> WorkingDraft:
        """It as it is now, locked, and its production before it, for a writer who is asked again as they stand by then.

        Raises PermissionDenied, and WorkingIsClosed.
        """
        lock_for(by, Deed.REWRITE)
        refuse_elsewhere(by, self)
        return self.lock()

    def lock(self) -> WorkingDraft:
        """It as it is now, locked for the rest of the transaction. Raises WorkingIsClosed."""
        them = WorkingDraft.objects.select_for_update(no_key=True, of=("self",)).select_related("base")
        locked = them.get(pk=self.pk)
        if not locked.is_open:
            raise WorkingIsClosed
        return locked

    def standing_scenes(self) -> models.QuerySet[WorkingScene]:
        """Its scenes that are not cut, in order."""
        return self.scenes.filter(cut_at=None).order_by("position", "pk")

    def joined_text(self) -> str:
        """What it reads now; one query."""
        return "".join(self.standing_scenes().values_list("text", flat=True))

    def make_scenes(self, by: Member, scenes: Iterable[WorkingScene]) -> list[WorkingScene]:
        """Store new scenes of it, each with its first text."""
        made = WorkingScene.objects.bulk_create(scenes)
        SceneText.objects.bulk_create(
            SceneText(scene=scene, version=1, text=scene.text, origins=scene.origins, saved_by=by) for scene in made
        )
        return made

    def as_stored(self, text: str, scene: WorkingScene) -> str:
        """A text for one of its scenes, which may come from a browser: with the line ends that the lines have there,
        and with the blank line after it where the scene has one."""
        end = self.base.usual_line_end
        text = keep_line_ends(scene.text, text, end)
        return end_with_blank_line(text, end) if scene.text == end_with_blank_line(scene.text, end) else text


class WorkingScene(Record):
    """A scene of a working draft, from its heading to the line before the next; what stands before the first heading
    (the title page with it) is one of its own. `text`, `origins` and `version` are those of its latest `SceneText`. A
    scene that was cut keeps its place and its words. `ordinal` is its scene in the draft that this was begun from, 0
    for what stands before the first, None for one that is not in it."""

    working = models.ForeignKey(WorkingDraft, on_delete=models.PROTECT, related_name="scenes")
    position = models.PositiveIntegerField()
    ordinal = models.PositiveIntegerField(null=True, blank=True)
    text = models.TextField(blank=True)
    origins = models.JSONField(default=list)
    version = models.PositiveIntegerField(default=1)
    cut_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["position", "id"]

    def __str__(self) -> str:
        return f"Scene at {self.position}"

    def reread(self) -> Self:
        """It as it is stored now, of the working draft as it is known here."""
        scene = type(self).objects.get(pk=self.pk)
        scene.working = self.working
        return scene

    @property
    def line_origins(self) -> LineOrigins:
        """From which lines of the base each of its own is known to come; a line that a taken wording brought has that
        one's mark."""
        known = LineOrigins.unpacked(self.origins).lines
        return LineOrigins(known + ((),) * (len(split_lines(self.text)) - len(known)))

    def write(
        self,
        by: Member,
        text: str,
        form_id: uuid.UUID | None = None,
        *,
        as_typed: bool = False,
        had: Iterable[SceneText] | None = None,
    ) -> None:
        """Let it read so from now on, within an act that has locked the working draft. `had` are its texts that read so
        before, asked for where they are not given."""
        self.origins = self._origins_of(text, self.texts.filter(text=text) if had is None else had).packed()
        self.text, self.version = text, self.version + 1
        self.save(update_fields=["text", "origins", "version"])
        told: dict[str, Any] = {"form_id": form_id} if form_id else {}
        told |= {"text": text, "origins": self.origins, "version": self.version}
        SceneText.objects.create(scene=self, saved_by=by, as_typed=as_typed, **told)

    def _origins_of(self, text: str, had: Iterable[SceneText]) -> LineOrigins:
        """From where the lines come if it reads so from now on. In a text that it had before they come from where they
        came from then."""
        earlier = max(had, key=lambda each: each.version, default=None)
        if earlier is not None and earlier.origins:
            return LineOrigins.unpacked(earlier.origins)
        return self.line_origins.then(rewritten_lines(self.text, text))

    def mark(self, mark: int, lines: range) -> None:
        """Let these lines have a taken wording's mark, wherever they come to stand."""
        self.origins = self.line_origins.with_mark(mark, lines).packed()
        self.save(update_fields=["origins"])
        self.texts.filter(version=self.version).update(origins=self.origins)

    def told_texts(self) -> list[SceneText]:
        """What it read, the latest first; of what was saved while somebody typed on, the last. Two queries."""
        wanted: list[int] = []
        later: SceneText | None = None
        for text in self.texts.order_by("-version").defer("text"):
            if later is None or not text.leads_on_to(later):
                wanted.append(text.version)
            later = text
        return list(self.texts.filter(version__in=wanted).select_related("saved_by__person").order_by("-version"))


class SceneText(PostedRecord):
    """One saved text of a working scene, so that no words are lost: `version` counts from 1, the text it began with.
    `origins` tell from which lines of the base its lines are known to come, and which wordings brought them
    (`screenplay.comparing.LineOrigins.packed`); `as_typed` that it was saved by itself, while somebody was typing."""

    scene = models.ForeignKey(WorkingScene, on_delete=models.PROTECT, related_name="texts")
    version = models.PositiveIntegerField()
    text = models.TextField(blank=True)
    origins = models.JSONField(default=list)
    saved_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="scene_texts")
    saved_at = models.DateTimeField(auto_now=True)
    as_typed = models.BooleanField(default=False)

    class Meta:
        ordering = ["version"]
        constraints = [models.UniqueConstraint(fields=["scene", "version"], name="scene_texts_in_order")]

    def __str__(self) -> str:
        return f"Version {self.version}"

    def leads_on_to(self, later: SceneText) -> bool:
        """Whether the same person typed on from this text to the next that was saved."""
        typed = self.as_typed and later.as_typed and self.saved_by_id == later.saved_by_id
        return typed and later.saved_at - self.saved_at < ONE_SITTING

    def is_being_typed_by(self, member: Member) -> bool:
        """Whether this member may well be typing on from it, as far as the log is concerned."""
        return self.as_typed and self.saved_by_id == member.pk and self.saved_at > timezone.now() - ONE_SITTING


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
