"""What was decided on each of many notes, and where the draft that written_in it says so."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.db.models import OuterRef, Subquery

from review.decisions.in_force import decision_in_force, latest_of
from review.decisions.models import Decision, Outcome
from review.drafts.models import Draft
from review.notes.lines import whole_lines
from review.notes.models import Placement, Subject

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from review.notes.models import Note
    from screenplay import Span

MOST_SHOWN_LINES = 8


@dataclass(frozen=True, slots=True)
class WrittenInDraft:
    """The draft that an accepted note was written in, and the note's lines there; `span` is None where it has none.

    `lines` are as many of them as are shown, none for a whole scene's or a character's note. `before` is the number of
    the draft before it, with which it is compared; None where that was withdrawn and none is left.
    """

    draft: Draft
    before: int | None
    span: Span | None
    lines: str

    @property
    def lines_left_out(self) -> int:
        return max(self.span.last_line - self.span.first_line + 1 - MOST_SHOWN_LINES, 0) if self.span else 0


@dataclass(frozen=True, slots=True)
class NoteDecisions:
    """All decisions on a note, in order; the one that stands, if any; and the answer to one that was accepted."""

    decisions: tuple[Decision, ...] = ()
    answer: WrittenInDraft | None = None

    @property
    def in_force(self) -> Decision | None:
        return decision_in_force(self.decisions)

    @property
    def latest(self) -> Decision | None:
        """The last of them, whether it stands or opened the note again."""
        return latest_of(self.decisions)

    @property
    def is_to_be_written_in(self) -> bool:
        """Whether it was accepted and no draft answers it yet."""
        return self.in_force is not None and self.in_force.outcome == Outcome.ACCEPTED and self.answer is None

    @property
    def reopened(self) -> Decision | None:
        """The decision that opened the note again, as long as it is open."""
        return None if self.in_force else self.latest

    @property
    def earlier(self) -> tuple[Decision, ...]:
        return self.decisions[:-1]

    @property
    def seen(self) -> int:
        """The ordinal of the latest decision, 0 before the first."""
        return len(self.decisions) and self.decisions[-1].ordinal


def decisions_on(notes: Sequence[Note]) -> dict[int, NoteDecisions]:
    """What was decided on each note, by the note's key: one query, and two more where any of them is written in."""
    decisions: dict[int, list[Decision]] = defaultdict(list)
    by_key = {note.pk: note for note in notes}
    found = Decision.objects.filter(note__in=[note.pk for note in notes]).order_by("ordinal")
    for decision in found.select_related("decided_by__person", "written_in"):
        decision.note = by_key[decision.note_id]
        decisions[decision.note_id].append(decision)
    written_in = _written_in(notes, decisions)
    return {note.pk: NoteDecisions(tuple(decisions[note.pk]), written_in.get(note.pk)) for note in notes}


def _written_in(notes: Iterable[Note], decisions: Mapping[int, Sequence[Decision]]) -> dict[int, WrittenInDraft]:
    told = [decision for found in decisions.values() for decision in found if hasattr(decision, "written_in")]
    if not told:
        return {}
    keys = {decision.written_in.draft_id for decision in told}
    earlier = Draft.objects.standing().filter(production=OuterRef("production"), number__lt=OuterRef("number"))
    before = Subquery(earlier.order_by("-number").values("number")[:1])
    answering = Draft.objects.filter(pk__in=keys).annotate(number_before=before)
    drafts = {draft.pk: (draft, vars(draft)["number_before"]) for draft in answering}
    for decision in told:
        decision.written_in.draft, _ = drafts[decision.written_in.draft_id]
    in_force = {note: decision_in_force(decisions[note.pk]) for note in notes}
    answered = {note: draft.pk for note, decision in in_force.items() if decision and (draft := decision.answered_in)}
    placed = Placement.objects.filter(draft__in=keys, note__in=[note.pk for note in answered])
    placements = {(placement.note_id, placement.draft_id): placement for placement in placed}
    return {note.pk: _answer(note, *drafts[key], placements.get((note.pk, key))) for note, key in answered.items()}


def _answer(note: Note, draft: Draft, before: int | None, placement: Placement | None) -> WrittenInDraft:
    span = placement.span if placement else None
    if span is None:
        return WrittenInDraft(draft, before, None, "")
    if note.subject != Subject.LINES:
        return WrittenInDraft(draft, before, span, "")
    last = min(span.last_line, span.first_line + MOST_SHOWN_LINES - 1)
    return WrittenInDraft(draft, before, span, whole_lines(draft.text, span.first_line, last))
