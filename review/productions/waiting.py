"""What waits for a member in a production: the figures and the notes on which their home page opens."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.db.models import Case, Count, F, Value, When
from django.utils import timezone

from review.decisions.models import Outcome
from review.decisions.sieve import STATES, UNDECIDED, WRITTEN_IN
from review.decisions.standing import accepted_and_not_written_in, standing_decisions, undecided
from review.notes.models import Fate, Kind, Note, Placement, Reply
from review.people.models import Invitation

if TYPE_CHECKING:
    from django.db.models import QuerySet

    from review.decisions.models import Decision
    from review.drafts.models import Draft
    from review.people.models import Member

MOST_SHOWN = 6
# The order in which kinds wait to be decided: what can hurt someone first, what asks for nothing last.
URGENCY = (Kind.SAFETY, Kind.PROBLEM, Kind.CONFUSION, Kind.QUESTION, Kind.PRACTICAL, Kind.IDEA, Kind.PRAISE)

# The order in which a reader is told what became of their notes.
ENDS = (WRITTEN_IN, Outcome.ACCEPTED.value, Outcome.PARKED.value, Outcome.DECLINED.value, UNDECIDED)


@dataclass(frozen=True, slots=True)
class KindWaiting:
    """How many notes of one kind have no decision yet."""

    kind: Kind
    count: int


@dataclass(frozen=True, slots=True)
class ForWriter:
    """Notes without a decision, by kind and in all; `homeless` counts those of them whose lines are gone in the draft.

    `to_write_in` counts the notes that were accepted and that no draft answers yet. `has_notes` tells whether there is
    any note at all, `invited` how many people have an open invitation.
    """

    kinds: tuple[KindWaiting, ...]
    has_notes: bool
    to_write_in: int
    homeless: int
    invited: int

    @property
    def undecided(self) -> int:
        return sum(waiting.count for waiting in self.kinds)


@dataclass(frozen=True, slots=True)
class Became:
    """How many notes came to one end: the state as the notes screen names it, in its address and in words."""

    state: str
    label: str
    count: int


@dataclass(frozen=True, slots=True)
class ForReader:
    """A reader's own notes: how many, what became of them, how many wait, the latest decisions, others' replies, and
    changed lines.

    Each decision is the one that stands on its note. `changed` counts the notes whose lines the draft changed.
    """

    left: int
    became: tuple[Became, ...]
    waiting: int
    answered: list[Decision]
    replies: int
    changed: int


def waiting_for_writer(member: Member, draft: Draft | None) -> ForWriter:
    notes = Note.objects.filter(production=member.production).standing()
    waiting = undecided(notes)
    counted = waiting.order_by().values("kind").annotate(count=Count("pk")).values_list("kind", "count")
    counts: dict[str, int] = dict(counted)
    return ForWriter(
        kinds=tuple(KindWaiting(kind, counts[kind]) for kind in URGENCY if kind in counts),
        has_notes=notes.exists(),
        to_write_in=accepted_and_not_written_in(notes).count(),
        homeless=waiting.filter(placements__draft=draft, placements__fate=Fate.GONE).count() if draft else 0,
        invited=Invitation.objects.filter(
            production=member.production, used_at=None, withdrawn_at=None, expires_at__gt=timezone.now()
        ).count(),
    )


def waiting_for_reader(member: Member, draft: Draft | None) -> ForReader:
    mine = Note.objects.filter(author=member).standing()
    left, standing = mine.count(), standing_decisions(note__in=mine).select_related("note", "written_in__draft")
    became = _became(standing, left)
    return ForReader(
        left=left,
        became=became,
        waiting=next((each.count for each in became if each.state == UNDECIDED), 0),
        answered=list(standing.defer("written_in__draft__text").order_by("-created_at", "-id")[:MOST_SHOWN]),
        replies=Reply.objects.filter(note__in=mine, withdrawn_at=None).exclude(author=F("note__author")).count(),
        changed=Placement.objects.filter(note__in=mine, draft=draft).exclude(fate=Fate.KEPT).count() if draft else 0,
    )


def _became(standing: QuerySet[Decision], left: int) -> tuple[Became, ...]:
    """What became of notes on which these decisions stand, `left` in all, what was done about them first; one query."""
    state = Case(When(written_in__isnull=False, then=Value(WRITTEN_IN)), default=F("outcome"))
    states = standing.order_by().annotate(state=state).values("state")
    counts: dict[str, int] = dict(states.annotate(count=Count("pk")).values_list("state", "count"))
    counts[UNDECIDED] = left - sum(counts.values())
    return tuple(Became(state, STATES[state], counts[state]) for state in ENDS if counts.get(state))
