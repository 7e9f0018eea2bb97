"""What one draft did to notes: their fates told since the draft before it, not since the one each was left on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.drafts.models import Draft
from review.drafts.scripts import compare_drafts
from review.notes.carrying import LINES, Position, Trail, carried, span_of
from review.notes.models import Fate, Placement, Subject
from screenplay import Span
from screenplay.script import chosen_words

if TYPE_CHECKING:
    from collections.abc import Mapping

    from review.notes.models import NoteQuerySet
    from screenplay.comparing import Comparison


@dataclass(frozen=True, slots=True)
class FatesSinceBefore:
    """What became in a draft of notes left on earlier ones.

    `before` is the draft before it, None for the first. `fates` are those of the notes whose lines that one had, by
    the note's key; `found_again` the notes whose lines were gone there and are back, `gone_already` those whose lines
    are in neither.
    """

    before: Draft | None
    fates: Mapping[int, Fate]
    found_again: int = 0
    gone_already: int = 0

    def count(self, *fates: Fate) -> int:
        return sum(fate in fates for fate in self.fates.values())


def fates_since_before(notes: NoteQuerySet, draft: Draft) -> FatesSinceBefore:
    """What became of these notes in a draft since the one before it; three queries, however many there are."""
    before = Draft.objects.filter(production_id=draft.production_id, number__lt=draft.number).defer("text").last()
    if before is None:
        return FatesSinceBefore(None, {})
    own = {pk: Trail(subject, position, position) for pk, subject, position in _own_positions(notes)}
    told: dict[int, dict[int, Placement]] = {before.pk: {}, draft.pk: {}}
    for placement in Placement.objects.filter(draft__in=told, note__in=notes):
        told[placement.draft_id][placement.note_id] = placement
    return _told(_Between(before, draft), own, told[before.pk], told[draft.pk])


def _own_positions(notes: NoteQuerySet) -> list[tuple[int, str, Position]]:
    rows = notes.order_by().values_list("pk", "subject", "character", "draft_id", *LINES)
    return [(pk, subject, Position(draft_id, Span(*lines), name)) for pk, subject, name, draft_id, *lines in rows]


def _told(
    between: _Between, own: Mapping[int, Trail], was: Mapping[int, Placement], now: Mapping[int, Placement]
) -> FatesSinceBefore:
    fates: dict[int, Fate] = {}
    found_again = gone_already = 0
    for pk, placement in now.items():
        if own[pk].own.draft_id == between.before.pk:
            fates[pk] = Fate(placement.fate)
        elif (earlier := was.get(pk)) is not None and earlier.fate != Fate.GONE:
            position = Position(between.before.pk, span_of(earlier), earlier.character)
            fates[pk] = between.fate(own[pk].subject, position, placement)
        elif placement.fate == Fate.GONE:
            gone_already += 1
        else:
            found_again += 1
    return FatesSinceBefore(between.before, fates, found_again, gone_already)


class _Between:
    """A draft and the one before it; they are compared when it is first asked what became of something."""

    def __init__(self, before: Draft, draft: Draft) -> None:
        self.before = before
        self.draft = draft

    def fate(self, subject: str, was: Position, now: Placement) -> Fate:
        """What became of a note's lines in the draft before, now that it stands where this placement says."""
        if now.fate == Fate.GONE:
            return Fate.GONE
        comparison = compare_drafts(self.before, self.draft)
        found = carried(Trail(subject, was, was), {self.before.pk: comparison})
        if found.span == span_of(now):
            return Fate(found.fate.value)
        if subject == Subject.CHARACTER:
            return Fate.KEPT if was.character.upper() == now.character.upper() else Fate.REWORDED
        return _by_words(was.span, span_of(now), comparison)


def _by_words(was: Span, now: Span, comparison: Comparison) -> Fate:
    """Of lines that were found otherwise than through this comparison, or by hand."""
    is_same = chosen_words(comparison.old.source, was) == chosen_words(comparison.new.source, now)
    return Fate.MOVED if is_same else Fate.REWORDED
