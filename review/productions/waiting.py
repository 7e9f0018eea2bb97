"""What waits for a member in a production: the figures and the notes on which their home page opens."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.db.models import F, OuterRef, Subquery
from django.utils import timezone

from review.decisions.models import Decision
from review.notes.models import Fate, Note, Placement, Reply
from review.people.models import Invitation

if TYPE_CHECKING:
    from datetime import datetime

    from review.drafts.models import Draft
    from review.people.models import Member

MOST_SHOWN = 6


@dataclass(frozen=True, slots=True)
class ForWriter:
    """`undecided` counts notes without a decision, `homeless` those of them whose lines are gone in the draft."""

    undecided: int
    homeless: int
    invited: int


@dataclass(frozen=True, slots=True)
class Answered:
    """A note of the reader's own with the decision that stands."""

    note: Note
    outcome: str
    reason: str
    at: datetime


@dataclass(frozen=True, slots=True)
class ForReader:
    """A reader's own notes: how many, how many wait, the latest decisions, others' replies, and changed lines."""

    left: int
    waiting: int
    answered: list[Answered]
    replies: int
    changed: int


def waiting_for_writer(member: Member, draft: Draft | None) -> ForWriter:
    undecided = Note.objects.filter(production=member.production).standing().filter(decisions=None)
    return ForWriter(
        undecided=undecided.count(),
        homeless=undecided.filter(placements__draft=draft, placements__fate=Fate.GONE).count() if draft else 0,
        invited=Invitation.objects.filter(
            production=member.production, used_at=None, withdrawn_at=None, expires_at__gt=timezone.now()
        ).count(),
    )


def waiting_for_reader(member: Member, draft: Draft | None) -> ForReader:
    mine = Note.objects.filter(author=member).standing()
    last = Decision.objects.filter(note=OuterRef("note")).order_by("-ordinal")
    standing = Decision.objects.filter(note__in=mine, ordinal=Subquery(last.values("ordinal")[:1]))
    latest = standing.select_related("note").order_by("-created_at")[:MOST_SHOWN]
    return ForReader(
        left=mine.count(),
        waiting=mine.filter(decisions=None).count(),
        answered=[
            Answered(note=found.note, outcome=found.outcome, reason=found.reason, at=found.created_at)
            for found in latest
        ],
        replies=Reply.objects.filter(note__in=mine, withdrawn_at=None).exclude(author=F("note__author")).count(),
        changed=Placement.objects.filter(note__in=mine, draft=draft).exclude(fate=Fate.KEPT).count() if draft else 0,
    )
