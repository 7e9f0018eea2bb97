"""What is to be told to somebody by mail, the letters that tell it and how far each has come, and who wants none."""

from __future__ import annotations

import hashlib
from datetime import timedelta
from typing import TYPE_CHECKING

from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from review.records import Record

if TYPE_CHECKING:
    from datetime import datetime

MOST_WHY = 240  # characters
ASKING_LASTS = timedelta(days=1)  # who is still without a new password by then asks again, or has another way in
KEPT_FOR = timedelta(days=365)  # after its end; for as long the way out of a letter leads out of all mail


class Occasion(models.TextChoices):
    """What a letter is written for. `about` of a piece of news is the public id of what stands behind the dash."""

    READING_OPENED = "reading opened", "A reading was opened for them"  # the reading
    READING_REMINDED = "reading reminded", "They were reminded of a reading"  # the reading
    READING_CLOSED = "reading closed", "A reading of theirs was closed"  # the reading
    DRAFT_PUBLISHED = "draft published", "A draft was put up"  # the draft
    REPLIED = "replied", "Somebody replied to them"  # the reply
    DECIDED = "decided", "A note of theirs was decided"  # the decision
    REPLIED_ON_PAPER = "replied on paper", "Somebody replied to them on a world paper"  # the reply
    DECIDED_ON_PAPER = "decided on paper", "A note of theirs on a world paper was decided"  # the decision
    TALK = "talk", "A talk they are asked to was called, changed or called off"  # the talk
    TAKEN_DOWN = "taken down", "What they said in a talk was written down in their name"  # the note
    INVITED = "invited", "They were invited"  # the invitation
    NEW_PASSWORD = "new password", "They asked for a new password"  # the person


class Pace(models.TextChoices):
    AT_ONCE = "at once", "At once"
    DAILY = "daily", "Once a day, in one mail"
    NONE = "none", "Not at all"


class MailWish(models.Model):
    """How a member wants their mail, once they have said so; whoever has not gets it at once."""

    member = models.OneToOneField("review.Member", on_delete=models.PROTECT, related_name="mail_wish")
    pace = models.CharField(max_length=10, choices=Pace)
    changed_at = models.DateTimeField(auto_now=True)

    def __str__(self) -> str:
        return f"{self.member}: {self.get_pace_display()}"


class StoppedAddress(models.Model):
    """An address that wants no mail from here, though nobody here has it: kept as a hash, to be known again."""

    address_hash = models.CharField(max_length=64, unique=True)
    stopped_at = models.DateTimeField(default=timezone.now)

    def __str__(self) -> str:
        return f"Stopped {self.stopped_at:%Y-%m-%d}"


def hash_address(address: str) -> str:
    return hashlib.sha256(address.strip().lower().encode()).hexdigest()


class SendersTurn(models.Model):
    """One record, which whoever gathers news into letters holds locked meanwhile: one gathers at a time."""

    def __str__(self) -> str:
        return "The turn of whoever gathers"


class LetterQuerySet(models.QuerySet["Letter"]):
    def waiting(self) -> LetterQuerySet:
        """Those that are to be sent, and were not handed to the mail server."""
        return self.filter(sent_at=None, given_up_at=None, let_go_at=None, handed_over_at=None)

    def due(self, now: datetime) -> LetterQuerySet:
        """Those of them whose time has come, and that no sender has in hand."""
        free = Q(claimed_until=None) | Q(claimed_until__lt=now)
        return self.waiting().filter(free, due_at__lte=now).order_by("due_at", "pk")

    def unanswered(self, now: datetime) -> LetterQuerySet:
        """Those that were handed over by somebody who then was not heard of again."""
        unfinished = self.filter(sent_at=None, given_up_at=None, let_go_at=None)
        return unfinished.filter(claimed_until__lt=now).exclude(handed_over_at=None)

    @transaction.atomic
    def clear_old(self, now: datetime) -> None:
        """Drop those that ended long ago, as sent, given up or let go, and the news that they told."""
        since = now - KEPT_FOR
        old = self.filter(Q(sent_at__lt=since) | Q(given_up_at__lt=since) | Q(let_go_at__lt=since))
        PieceOfNews.objects.filter(Q(letter__in=old) | Q(letter=None, let_go_at__lt=since)).delete()
        old.delete()


class Letter(Record):
    """One mail to one person, and how far it has come. What it says is written when it is sent, and not kept.

    Of whom it reaches as no member it has the `address`, until it is sent, and then its hash alone: somebody who is not
    here yet, or who asked for a new password, which is no production's business. A sender takes it
    in hand by setting `claim`, until `claimed_until`; right before its text leaves, `handed_over_at` is set, by one
    sender alone, and taken back where the mail server says that it did not take it. So no letter is sent twice,
    whatever dies meanwhile. It ends as sent, as given up, with the reason `why`, or as let go, where nothing is left to
    say.
    """

    production = models.ForeignKey(
        "review.Production", on_delete=models.PROTECT, null=True, blank=True, related_name="letters"
    )
    member = models.ForeignKey("review.Member", on_delete=models.PROTECT, null=True, blank=True, related_name="letters")
    address = models.EmailField(blank=True)
    address_hash = models.CharField(max_length=64, blank=True)
    tries = models.PositiveSmallIntegerField(default=0)
    due_at = models.DateTimeField(default=timezone.now)
    claim = models.UUIDField(null=True, blank=True)
    claimed_until = models.DateTimeField(null=True, blank=True)
    handed_over_at = models.DateTimeField(null=True, blank=True)
    sent_at = models.DateTimeField(null=True, blank=True)
    given_up_at = models.DateTimeField(null=True, blank=True)
    let_go_at = models.DateTimeField(null=True, blank=True)
    why = models.CharField(max_length=MOST_WHY, blank=True)

    objects = LetterQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]
        indexes = [
            models.Index(
                fields=["due_at"],
                condition=Q(sent_at=None, given_up_at=None, let_go_at=None),
                name="letters_on_their_way",
            )
        ]

    def __str__(self) -> str:
        return f"Letter {self.public_id}"

    @property
    def recipient(self) -> str:
        """The address that it goes to."""
        return self.member.person.email if self.member else self.address


class PieceOfNews(models.Model):
    """Something that a member is to be told, once; `letter` is the one that tells it, None until news is gathered.

    `again` tells it from another on the same occasion and about the same record. `member` is None of whoever is not
    here yet, and with `production` of whoever asked for a new password.
    """

    production = models.ForeignKey(
        "review.Production", on_delete=models.PROTECT, null=True, blank=True, related_name="news"
    )
    member = models.ForeignKey("review.Member", on_delete=models.PROTECT, null=True, blank=True, related_name="news")
    occasion = models.CharField(max_length=20, choices=Occasion)
    about = models.CharField(max_length=16)
    again = models.CharField(max_length=16, blank=True)
    at = models.DateTimeField(default=timezone.now)
    letter = models.ForeignKey(Letter, on_delete=models.PROTECT, null=True, blank=True, related_name="news")
    let_go_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["id"]
        verbose_name_plural = "pieces of news"
        constraints = [
            models.UniqueConstraint(fields=["member", "occasion", "about", "again"], name="news_is_told_once"),
        ]
        indexes = [
            models.Index(fields=["member"], condition=Q(letter=None, let_go_at=None), name="news_not_gathered_yet")
        ]

    def __str__(self) -> str:
        return f"{self.get_occasion_display()}: {self.about}"
