"""The log of acts: who did what, when. It is only ever added to."""

from __future__ import annotations

from contextlib import contextmanager
from contextvars import ContextVar
from typing import TYPE_CHECKING, Any, NoReturn

from django.db import models
from django.utils import timezone

from review.serving.addresses import asked_from

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from datetime import datetime

    from django.contrib.auth.base_user import AbstractBaseUser

    from review.records import PostedRecord


class AppendOnly(Exception):
    """Raised when something tries to change or remove an entry of the log."""

    def __init__(self) -> None:
        super().__init__("The log of acts is only ever added to.")


class ActQuerySet(models.QuerySet["Act"]):
    def update(self, **kwargs: Any) -> NoReturn:
        raise AppendOnly

    def bulk_update(self, *args: Any, **kwargs: Any) -> NoReturn:
        raise AppendOnly

    def delete(self) -> NoReturn:
        raise AppendOnly


class Act(models.Model):
    """One thing that somebody did: `about` says to which record, `details` what a reader of the log wants to know."""

    class Verb(models.TextChoices):
        STARTED_PRODUCTION = "started production", "started the production"
        RENAMED_PRODUCTION = "renamed production", "renamed the production"
        CHANGED_SETTINGS = "changed settings", "changed the settings of"
        LOCKED_NUMBERS = "locked numbers", "locked the scene numbers of"
        UNLOCKED_NUMBERS = "unlocked numbers", "unlocked the scene numbers of"
        LOCKED_PAGES = "locked pages", "locked the pages of"
        UNLOCKED_PAGES = "unlocked pages", "unlocked the pages of"
        INVITED = "invited", "invited"
        WITHDREW_INVITATION = "withdrew invitation", "withdrew the invitation of"
        JOINED = "joined", "joined"
        REMOVED_MEMBER = "removed member", "removed"
        LET_BACK_IN = "let back in", "was let back in at the server’s terminal"
        CHANGED_ROLE = "changed place", "changed the place of"
        NAMED_CHARACTER = "named character", "said whom somebody plays:"
        MADE_SIGN_IN_LINK = "made sign-in link", "made a sign-in link for"
        USED_SIGN_IN_LINK = "used sign-in link", "signed in by a link"
        SIGNED_IN = "signed in", "signed in"
        FAILED_TO_SIGN_IN = "failed to sign in", "was not let in"
        CHANGED_PASSWORD = "changed password", "chose a new password"
        PUBLISHED_DRAFT = "published draft", "published"
        WITHDREW_DRAFT = "withdrew draft", "withdrew"
        PUT_DRAFT_UP_AGAIN = "put draft up again", "put up again"
        DOWNLOADED_DRAFT = "downloaded draft", "downloaded"
        PRINTED_DRAFT = "printed draft", "took a PDF of"
        PRINTED_SIDES = "printed sides", "took sides from"
        LEFT_NOTE = "left note", "left a note on"
        CHANGED_NOTE = "changed note", "changed a note on"
        CORRECTED_NOTE = "corrected note", "corrected a note on"
        WITHDREW_NOTE = "withdrew note", "withdrew a note on"
        PUT_NOTE_BACK = "put note back", "put back a note on"
        REPLIED = "replied", "replied to a note on"
        WITHDREW_REPLY = "withdrew reply", "withdrew a reply on"
        DECIDED = "decided", "decided a note on"
        PLACED_NOTE = "placed note", "set the place of a note on"
        BEGAN_WORKING = "began working draft", "began the next draft from"
        SET_ASIDE_WORKING = "set aside working draft", "set aside the working draft from"
        TOOK_UP_WORKING = "took up working draft", "took up the working draft from"
        SAVED_SCENE = "saved scene", "wrote on a scene of"
        CUT_SCENE = "cut scene", "cut a scene of"
        RESTORED_SCENE = "restored scene", "restored a scene of"
        MOVED_SCENE = "moved scene", "moved a scene of"
        ADDED_SCENE = "added scene", "added a scene to"
        TOOK_WORKING_TEXT = "took working text", "took away the text of"
        PUT_BACK_TEXT = "put back text", "put a text back into"
        TOOK_WORDING = "took wording", "took a wording into"
        TOOK_OUT_WORDING = "took out wording", "took a wording out of"
        WROTE_IN = "wrote in", "said written in of a note on"
        PRINTED_SHEET = "printed sheet", "took a change sheet of"
        OPENED_READING = "opened reading", "opened a reading of"
        CHANGED_READING = "changed reading", "changed what a reading asks"
        ADDED_READER = "added reader", "asked to read:"
        TOOK_OFF_READER = "took off reader", "took off a reading:"
        REMINDED_READERS = "reminded readers", "reminded the readers of"
        CLOSED_READING = "closed reading", "closed a reading of"
        REOPENED_READING = "reopened reading", "opened a reading again of"
        BEGAN_READING = "began reading", "began to read in"
        MARKED_SCENE = "marked scene", "marked a scene in a reading of"
        TOOK_BACK_MARK = "took back mark", "took back a mark in a reading of"
        SHARED_TIME = "shared time", "said who sees how long they read in"
        FINISHED_READING = "finished reading", "finished a reading of"
        MADE_VOICE_RULE = "made voice rule", "made a rule for a voice in"
        WITHDREW_VOICE_RULE = "withdrew voice rule", "withdrew a rule for a voice in"
        MERGED_CUES = "merged cues", "made two cues one character in"
        KEPT_CUES_APART = "kept cues apart", "kept two cues apart in"
        MERGED_PLACES = "merged places", "made two places one in"
        KEPT_PLACES_APART = "kept places apart", "kept two places apart in"
        MARKED_WORD = "marked word", "marked a word for a department of"
        WITHDREW_MARK = "withdrew mark", "stopped marking a word in"
        SET_STORY_DAYS = "set story days", "set story days of"
        ORDERED_SCENES = "ordered scenes", "put the scenes in order of"
        TOOK_BREAKDOWN = "took breakdown", "took a breakdown of"
        ASKED_QUESTION = "asked question", "asked a question in a reading of"
        WITHDREW_QUESTION = "withdrew question", "withdrew a question in a reading of"
        ASKED_AGAIN = "asked again", "asked a question again in a reading of"
        SHOWED_INTENDED = "showed intended", "showed what was meant by a question in"
        JUDGED_ANSWER = "judged answer", "judged an answer in a reading of"
        ANSWERED_QUESTION = "answered question", "answered a question in a reading of"
        WROTE_PURPOSE = "wrote purpose", "wrote a scene’s purpose in"
        BROUGHT_IN_NOTES = "brought in notes", "brought notes into"
        PUT_UP_PAPER = "put up paper", "put up a world paper in"
        CHANGED_PAPER = "changed paper", "changed a world paper in"
        WITHDREW_PAPER = "withdrew paper", "withdrew a world paper in"
        PUT_PAPER_BACK = "put paper back", "put back a world paper in"
        ADDED_PICTURE = "added picture", "added a picture to a world paper in"
        LEFT_PAPER_NOTE = "left paper note", "left a note on a world paper in"
        CHANGED_PAPER_NOTE = "changed paper note", "changed a note on a world paper in"
        REPLIED_ON_PAPER = "replied on paper", "replied on a world paper in"
        WITHDREW_PAPER_NOTE = "withdrew paper note", "withdrew a note on a world paper in"
        PUT_PAPER_NOTE_BACK = "put paper note back", "put back a note on a world paper in"
        WITHDREW_PAPER_REPLY = "withdrew paper reply", "withdrew a reply on a world paper in"
        DECIDED_ON_PAPER = "decided on paper", "decided a note on a world paper in"
        TOOK_NOTES = "took notes", "took the notes of"
        CALLED_TALK = "called talk", "called a talk about"
        CHANGED_TALK = "changed talk", "changed a talk about"
        CALLED_OFF_TALK = "called off talk", "called off a talk about"
        TOOK_AGENDA = "took agenda", "took the agenda of a talk about"
        CHOSE_MAIL = "chose mail", "chose how mail comes"
        SENT_AGAIN = "sent again", "sent a mail again"
        PRINTED_REVISION = "printed revision", "took revised pages of"

    production = models.ForeignKey(
        "review.Production", on_delete=models.PROTECT, related_name="acts", null=True, blank=True
    )
    person = models.ForeignKey("review.Person", on_delete=models.PROTECT, related_name="acts")
    verb = models.CharField(max_length=32, choices=Verb)
    about = models.CharField(max_length=16, blank=True, help_text="The public id of the record.")
    details = models.JSONField(default=dict)
    at = models.DateTimeField(default=timezone.now)
    address = models.GenericIPAddressField(null=True, blank=True, help_text="Where it was asked for from, if known.")

    objects = ActQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]
        indexes = [
            models.Index(fields=["production", "-at", "-id"]),
            models.Index(fields=["person", "verb", "-at"]),
        ]

    def __str__(self) -> str:
        return f"{self.person} {self.get_verb_display()}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        if self.pk is not None:
            raise AppendOnly
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> NoReturn:
        raise AppendOnly


_happened_at: ContextVar[datetime | None] = ContextVar("happened_at", default=None)


@contextmanager
def happened_at(moment: datetime) -> Iterator[None]:
    """Acts recorded within happened at this moment: for what is told of the past, as the demo is."""
    token = _happened_at.set(moment)
    try:
        yield
    finally:
        _happened_at.reset(token)


def record(
    person: AbstractBaseUser, verb: Act.Verb, production: PostedRecord | None, about: str = "", **details: Any
) -> Act:
    """Add an act to the log, within the transaction of the act itself. Details must never hold a secret."""
    return Act.objects.create(**_told(person, verb, production, details), about=about)


def record_each(
    person: AbstractBaseUser, verb: Act.Verb, production: PostedRecord | None, about: Iterable[str], **details: Any
) -> None:
    """The same act on many records, an entry for each, as `record` adds them one by one."""
    told = _told(person, verb, production, details)
    Act.objects.bulk_create(Act(about=each, **told) for each in about)


def _told(
    person: AbstractBaseUser, verb: Act.Verb, production: PostedRecord | None, details: dict[str, Any]
) -> dict[str, Any]:
    """What an entry says, whatever it is about. The log knows people and productions by their keys alone."""
    moment = _happened_at.get() or timezone.now()
    return {
        "person_id": person.pk,
        "verb": verb,
        "production_id": production.pk if production else None,
        "details": details,
        "at": moment,
        "address": asked_from() or None,
    }
