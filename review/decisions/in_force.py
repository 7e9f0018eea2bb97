"""Which decision stands on a note: its latest, unless that one opened the note again. Nothing else says so."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db.models import Exists, OuterRef, Q

from review.decisions.accepting import OF_KIND
from review.decisions.models import Decision, Outcome

if TYPE_CHECKING:
    from collections.abc import Iterable

    from django.db.models import QuerySet

    from review.notes.models import NoteQuerySet


# A draft that was withdrawn answers nothing.
IS_WRITTEN_IN = Q(written_in__isnull=False, written_in__draft__withdrawn_at=None)
NOT_WRITTEN_IN = Q(written_in=None) | Q(written_in__draft__withdrawn_at__isnull=False)


def latest_of(decisions: Iterable[Decision]) -> Decision | None:
    """The last decision of a note's, one that opened it again too; None before the first."""
    return max(decisions, key=lambda decision: decision.ordinal, default=None)


def decision_in_force(decisions: Iterable[Decision]) -> Decision | None:
    """The decision that stands, of all that one note has; None while it is undecided."""
    latest = latest_of(decisions)
    return None if latest is None or latest.outcome == Outcome.REOPENED else latest


def decisions_in_force(**of: object) -> QuerySet[Decision]:
    """The decisions that stand, one a note at most; `of` narrows them down, as `note__in=notes` does."""
    later = Decision.objects.filter(note=OuterRef("note"), ordinal__gt=OuterRef("ordinal"))
    return Decision.objects.filter(~Exists(later), **of).exclude(outcome=Outcome.REOPENED)


def undecided(notes: NoteQuerySet) -> NoteQuerySet:
    """Those of the notes on which no decision stands."""
    return notes.filter(~Exists(decisions_in_force(note=OuterRef("pk"))))


def accepted_and_not_written_in(notes: NoteQuerySet) -> NoteQuerySet:
    """What is to be written in: those of the notes that were accepted and that no draft answers yet. What was answered,
    acknowledged or thanked for asks for nothing more, unless it offers a wording: `accepting` tells them apart."""
    accepted = decisions_in_force(note=OuterRef("pk"), outcome=Outcome.ACCEPTED).filter(NOT_WRITTEN_IN)
    return notes.filter(Exists(accepted)).exclude(Q(kind__in=list(OF_KIND), wording=None))
