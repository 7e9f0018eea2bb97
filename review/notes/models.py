"""Notes on a draft's lines, the replies under them, and where each note stands in later drafts."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.db import models
from django.db.models import Exists, F, OuterRef, Q
from django.utils import timezone

from review.notes.brought_in import SaidRecord
from review.notes.open_words import OfReaderAlone, OpenNotes, OpenReplies
from screenplay import Span
from screenplay.breakdown import ASSESS_FIRST

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from review.drafts.models import Draft
    from review.people.models import Member

MOST_NAME = 120  # characters of a character's name


class NoteKind(models.TextChoices):
    QUESTION = "question", "Question"
    CONFUSION = "confusion", "Confusion"
    IDEA = "idea", "Idea"
    PROBLEM = "problem", "Problem"
    PRACTICAL = "practical", "Practical"
    SAFETY = "safety", "Safety"
    PRAISE = "praise", "Praise"


class Audience(models.TextChoices):
    EVERYONE = "everyone", "Everyone on the production"
    WRITER = "writer", "The writer's eyes only"


# What each print and sheet that could hold notes for the writer's eyes only says of them, whether there are any or not.
FOR_WRITERS_LEFT_OUT = "Notes for the writer’s eyes only are left out."
FOR_WRITERS_TOO = "Notes for the writer’s eyes only are among these. Keep this copy to yourself."
NONE_FOR_WRITERS = "No note for the writer’s eyes only is among these."
# And where notes on safety stand on it.
SAFETY_SENSE = f"A safety note is a colleague’s remark, not a risk assessment. {ASSESS_FIRST}"


def sense_of_audiences(asked_for: Iterable[str], *, for_writers_too: bool) -> str:
    """What to say above notes that are for such audiences, where those for the writer's eyes only may be asked for."""
    if not for_writers_too:
        return FOR_WRITERS_LEFT_OUT
    return FOR_WRITERS_TOO if Audience.WRITER in asked_for else NONE_FOR_WRITERS


class Fate(models.TextChoices):
    KEPT = "kept", "Kept"
    MOVED = "moved", "Moved"
    REWORDED = "reworded", "Reworded"
    GONE = "gone", "Gone"


class Subject(models.TextChoices):
    """What a note is about. A scene's and a character's note follows the scene or the character, whatever its lines."""

    LINES = "lines", "These lines"
    SCENE = "scene", "The scene"
    CHARACTER = "character", "The character"


class NoteQuerySet(OpenNotes["Note"]):
    for_all = Q(audience=Audience.EVERYONE)
    said_here = Q(said_by="")

    def visible_to(self, member: Member) -> NoteQuerySet:
        """The production's notes that the member may read, as `open_to` says. A draft that is withdrawn takes the notes
        left on it along until it is put up again. Whoever reads alone may read their own, whatever draft the others
        are on."""
        return self.filter(production_id=member.production_id, draft__withdrawn_at=None).open_to(member)

    def seen_as_by_all(self, member: Member) -> bool:
        """Whether a member who does not read alone may read the very notes that everybody else of their sort may:
        writers all of them, the others what is for everyone, unless they left something for the writer's eyes only."""
        return member.is_writer or not self.of(member).exclude(audience=Audience.EVERYONE).exists()

    def of(self, member: Member) -> NoteQuerySet:
        """Those that the member said, and did not only bring in for somebody who is no member."""
        return self.filter(author=member, said_by="")

    def gone_with_a_draft(self, author: Member) -> NoteQuerySet:
        """What a member left on drafts that are withdrawn: they alone are shown it, and of it their own words alone."""
        return self.filter(author=author, draft__withdrawn_at__isnull=False)

    def for_everyone(self) -> NoteQuerySet:
        """Those that were left for everyone on the production, and so may stand on what is handed on."""
        return self.filter(audience=Audience.EVERYONE)

    def not_withdrawn(self) -> NoteQuerySet:
        """Those that neither their author took back nor went with a draft that was withdrawn."""
        return self.filter(withdrawn_at=None, draft__withdrawn_at=None)

    def answered(self) -> NoteQuerySet:
        """Those that somebody else has replied to, or that were ever decided: their words were taken at their word."""
        replies = Reply.objects.filter(note=OuterRef("pk")).exclude(author=OuterRef("author"))
        return self.filter(Exists(replies) | Q(decisions__isnull=False)).distinct()


class Note(OfReaderAlone, SaidRecord):
    """Lines count from 1 in the draft it was left on; characters are offsets in those lines, the last one exclusive.

    A note on a scene spans all of the scene's lines; one on a character, whom `character` names as their cue does,
    the cue's line where they first speak.

    `taken_down_by` wrote it down when its author said it, in the talk `taken_down_in`. It is its author's all the same,
    to correct and to count.

    `version` counts its texts from 1: the one that stands is here, those before it are its `earlier_texts`.
    """

    production = models.ForeignKey("review.Production", on_delete=models.PROTECT, related_name="notes")
    draft = models.ForeignKey("review.Draft", on_delete=models.PROTECT, related_name="notes")
    author = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="notes")
    kind = models.CharField(max_length=10, choices=NoteKind)
    subject = models.CharField(max_length=10, choices=Subject, default=Subject.LINES)
    character = models.CharField(max_length=MOST_NAME, blank=True)
    first_line = models.PositiveIntegerField()
    first_char = models.PositiveIntegerField()
    last_line = models.PositiveIntegerField()
    last_char = models.PositiveIntegerField()
    quoted = models.TextField()
    body = models.TextField(blank=True)
    wording = models.TextField(null=True, blank=True)  # noqa: DJ001 - no wording, and a wording that empties the lines, differ
    audience = models.CharField(max_length=10, choices=Audience, default=Audience.EVERYONE)
    taken_down_in = models.ForeignKey(
        "review.Talk", on_delete=models.PROTECT, null=True, blank=True, related_name="taken_down"
    )
    taken_down_by = models.ForeignKey(
        "review.Member", on_delete=models.PROTECT, null=True, blank=True, related_name="notes_taken_down"
    )
    version = models.PositiveIntegerField(default=1)
    changed_at = models.DateTimeField(null=True, blank=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    objects = NoteQuerySet.as_manager()

    class Meta:
        ordering = ["first_line", "first_char", "id"]
        indexes = [models.Index(fields=["production", "draft"])]
        constraints = [
            models.CheckConstraint(
                condition=Q(first_line__gte=1)
                & (Q(last_line__gt=F("first_line")) | Q(last_line=F("first_line"), last_char__gte=F("first_char"))),
                name="a_note_ends_after_it_begins",
            ),
            models.CheckConstraint(
                condition=Q(subject=Subject.CHARACTER) ^ Q(character=""), name="a_character_note_names_its_character"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} on line {self.first_line}"

    @property
    def span(self) -> Span:
        """Its lines in the draft that it was left on."""
        return Span(self.first_line, self.first_char, self.last_line, self.last_char)

    def said_at_first(self) -> Mapping[str, Any]:
        return self.earlier_texts.values("kind", "body", "wording", "audience").first() or {}


class EarlierText(models.Model):
    """What a note said before its author changed it. One that somebody had answered, or decided, is shown beside the
    correction; one that nobody had is kept."""

    note = models.ForeignKey(Note, on_delete=models.PROTECT, related_name="earlier_texts")
    version = models.PositiveIntegerField()
    kind = models.CharField(max_length=10, choices=NoteKind)
    body = models.TextField(blank=True)
    wording = models.TextField(null=True, blank=True)  # noqa: DJ001 - as in the note
    audience = models.CharField(max_length=10, choices=Audience)
    was_answered = models.BooleanField()
    replaced_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["version"]
        constraints = [models.UniqueConstraint(fields=["note", "version"], name="texts_of_a_note_in_order")]

    def __str__(self) -> str:
        return f"Text {self.version} of note {self.note_id}"


class Placement(models.Model):
    """Where a note stands in a later draft, without lines where they are gone; `placed_by` set it by hand.

    `character` is what the character of a note on one is called there. `is_known` says that nothing was guessed: the
    draft was written here, and what became of the lines was seen.
    """

    note = models.ForeignKey(Note, on_delete=models.PROTECT, related_name="placements")
    draft = models.ForeignKey("review.Draft", on_delete=models.PROTECT, related_name="placements")
    fate = models.CharField(max_length=10, choices=Fate)
    character = models.CharField(max_length=MOST_NAME, blank=True)
    first_line = models.PositiveIntegerField(null=True, blank=True)
    first_char = models.PositiveIntegerField(null=True, blank=True)
    last_line = models.PositiveIntegerField(null=True, blank=True)
    last_char = models.PositiveIntegerField(null=True, blank=True)
    is_known = models.BooleanField(default=False)
    placed_by = models.ForeignKey(
        "review.Member", on_delete=models.PROTECT, null=True, blank=True, related_name="placements_set"
    )
    placed_at = models.DateTimeField(auto_now=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["note", "draft"], name="one_placement_a_draft"),
            models.CheckConstraint(
                condition=Q(fate=Fate.GONE, first_line=None, first_char=None, last_line=None, last_char=None)
                | (
                    ~Q(fate=Fate.GONE)
                    & Q(first_line__gte=1, first_char__gte=0, last_line__gte=F("first_line"), last_char__gte=0)
                ),
                name="only_gone_lines_have_no_place",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_fate_display()} in draft {self.draft.number}"

    @classmethod
    def of(cls, note_id: int, draft: Draft, fate: str, span: Span | None, character: str = "") -> Placement:
        """A placement, not yet stored, of a note on these lines of a draft; without lines where they are gone."""
        if span is None:
            return cls(note_id=note_id, draft=draft, fate=Fate.GONE)
        return cls(
            note_id=note_id,
            draft=draft,
            fate=Fate(fate),
            character=character[:MOST_NAME],
            first_line=span.first_line,
            first_char=span.first_char,
            last_line=span.last_line,
            last_char=span.last_char,
        )

    @property
    def span(self) -> Span | None:
        """Its lines in that draft; None where they are gone."""
        ends = (self.first_line, self.first_char, self.last_line, self.last_char)
        return None if None in ends else Span(*(end or 0 for end in ends))

    @property
    def place(self) -> tuple[Fate, str, Span | None]:
        """All that it says of where the note stands."""
        return Fate(self.fate), self.character, self.span


class ReplyQuerySet(OpenReplies["Reply"]):
    said_here = Q(said_by="")

    def visible_to(self, member: Member) -> ReplyQuerySet:
        """Those under notes that the member may read, as `open_to` says."""
        return self.filter(note__in=Note.objects.visible_to(member).order_by()).open_to(member)


class Reply(SaidRecord):
    note = models.ForeignKey(Note, on_delete=models.PROTECT, related_name="replies")
    author = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="replies")
    body = models.TextField()
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    objects = ReplyQuerySet.as_manager()

    class Meta:
        ordering = ["id"]
        verbose_name_plural = "replies"

    def __str__(self) -> str:
        return f"Reply by {self.author}"
