"""What waits for a member in a production: the figures and the notes on which their home page opens."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.db.models import BooleanField, Count, ExpressionWrapper, F, Q
from django.db.models.functions import Coalesce
from django.utils import timezone

from review.cards.came_to import what_they_came_to
from review.decisions.in_force import IS_WRITTEN_IN, accepted_and_not_written_in, decisions_in_force, undecided
from review.decisions.states import ENDS, STATES, UNDECIDED, URGENCY, state_of
from review.notes.fates import fates_since_before
from review.notes.lines import quote
from review.notes.models import Fate, Note, NoteKind, Placement, Reply, Subject
from review.people.models import Invitation, has_readers
from screenplay.script import same_words

if TYPE_CHECKING:
    from collections.abc import Iterable

    from django.db.models import QuerySet

    from review.cards.came_to import CameTo
    from review.decisions.models import Decision
    from review.drafts.models import Draft
    from review.people.models import Member

MOST_SHOWN = 6


@dataclass(frozen=True, slots=True)
class KindWaiting:
    """How many notes of one kind have no decision yet."""

    kind: NoteKind
    count: int


@dataclass(frozen=True, slots=True)
class ForWriter:
    """Notes without a decision, by kind and in all; `homeless` counts those of them whose lines are gone in the draft.

    `to_write_in` counts the notes that were accepted and that no draft answers yet. `has_notes` tells whether there is
    any note at all, `has_readers` whether anybody is here who could leave one, `invited` how many people have an open
    invitation.
    """

    kinds: tuple[KindWaiting, ...]
    has_notes: bool
    has_readers: bool
    to_write_in: int
    homeless: int
    invited: int

    @property
    def undecided(self) -> int:
        return sum(waiting.count for waiting in self.kinds)


@dataclass(frozen=True, slots=True)
class StateCount:
    """How many notes came to one end: the state as the notes screen names it, in its address and in words."""

    state: str
    label: str
    count: int


@dataclass(frozen=True, slots=True)
class Answered:
    """What a note came to by the decision that stands on it, and what the note's lines read in the draft where that is
    something else: empty where it is not, and where the note is not about lines. `is_gone` says that the draft has none
    of them."""

    came_to: CameTo
    now_reads: str
    is_gone: bool


@dataclass(frozen=True, slots=True)
class ForReader:
    """A reader's own notes: how many, what became of them, how many wait, the latest decisions, others' replies, and
    changed lines.

    Each decision is the one that stands on its note; the latest is the one that was made or written in last. `changed`
    counts the notes whose lines read otherwise than in the draft before, or are gone since it.
    """

    left: int
    became: tuple[StateCount, ...]
    waiting: int
    answered: list[Answered]
    replies: int
    changed: int


def waiting_for_writer(member: Member, draft: Draft | None) -> ForWriter:
    notes = Note.objects.filter(production=member.production).not_withdrawn()
    waiting, has_notes = undecided(notes), notes.exists()
    counted = waiting.order_by().values("kind").annotate(count=Count("pk")).values_list("kind", "count")
    counts: dict[str, int] = dict(counted)
    return ForWriter(
        kinds=tuple(KindWaiting(kind, counts[kind]) for kind in URGENCY if kind in counts),
        has_notes=has_notes,
        has_readers=has_notes or has_readers(member),
        to_write_in=accepted_and_not_written_in(notes).count(),
        homeless=waiting.filter(placements__draft=draft, placements__fate=Fate.GONE).count() if draft else 0,
        invited=Invitation.objects.filter(
            production=member.production, used_at=None, withdrawn_at=None, expires_at__gt=timezone.now()
        ).count(),
    )


def waiting_for_reader(member: Member, draft: Draft | None) -> ForReader:
    mine = Note.objects.of(member).not_withdrawn()
    if not (left := mine.count()):
        return ForReader(left=0, became=(), waiting=0, answered=[], replies=0, changed=0)
    standing = decisions_in_force(note__in=mine).select_related("note", "written_in__draft")
    became = _became(standing, left)
    return ForReader(
        left=left,
        became=became,
        waiting=next((each.count for each in became if each.state == UNDECIDED), 0),
        answered=_answered(member, _latest(standing), draft),
        replies=Reply.objects.visible_to(member)
        .filter(note__in=mine, withdrawn_at=None)
        .exclude(author=F("note__author"))
        .count(),
        changed=fates_since_before(mine, draft).count(Fate.REWORDED, Fate.GONE) if draft else 0,
    )


def _latest(standing: QuerySet[Decision]) -> QuerySet[Decision]:
    told_at = Coalesce("written_in__created_at", "created_at")
    return standing.defer("written_in__draft__text").order_by(told_at.desc(), "-id")[:MOST_SHOWN]


def _answered(member: Member, decisions: Iterable[Decision], draft: Draft | None) -> list[Answered]:
    came_to = what_they_came_to(member, decisions)
    placed = Placement.objects.filter(draft=draft, note__in=came_to)
    placements = {placement.note_id: placement for placement in placed}
    return [_in_draft(each, placements.get(key), draft) for key, each in came_to.items()]


def _in_draft(came_to: CameTo, placement: Placement | None, draft: Draft | None) -> Answered:
    note = came_to.decision.note
    if draft is None or placement is None or note.subject != Subject.LINES:
        return Answered(came_to, "", is_gone=False)
    if placement.span is None:
        return Answered(came_to, "", is_gone=True)
    reads = quote(draft.text, placement.span)
    return Answered(came_to, "" if same_words(note.quoted, reads) else reads, is_gone=False)


def _became(standing: QuerySet[Decision], left: int) -> tuple[StateCount, ...]:
    """What became of notes on which these decisions stand, `left` in all, what was done about them first; one query."""
    has_wording = ExpressionWrapper(Q(note__wording__isnull=False), BooleanField())
    is_written_in = ExpressionWrapper(IS_WRITTEN_IN, BooleanField())
    told = standing.order_by().annotate(has_wording=has_wording, is_written_in=is_written_in)
    groups = told.values("note__kind", "outcome", "has_wording", "is_written_in").annotate(count=Count("pk"))
    counts: Counter[str] = Counter()
    for each in groups:
        state = state_of(
            each["note__kind"],
            each["outcome"],
            has_wording=each["has_wording"],
            is_written_in=each["is_written_in"],
        )
        counts[state] += each["count"]
    counts[UNDECIDED] = left - counts.total()
    return tuple(StateCount(state, STATES[state], counts[state]) for state in ENDS if counts.get(state))
