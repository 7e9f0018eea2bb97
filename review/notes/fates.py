"""What one draft did to notes: their fates told since the draft before it, not since the one each was left on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.drafts.models import Draft
from review.drafts.scripts import compare_drafts
from review.notes.carrying import LINES, Position, Trail, carried, placements_to_come
from review.notes.models import Fate, Placement, Subject
from screenplay import Span
from screenplay.fountain import same_name
from screenplay.script import chosen_text

if TYPE_CHECKING:
    from collections.abc import Mapping

    from review.notes.models import NoteQuerySet
    from review.notes.then_and_now import NextText
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
    """What became of these notes in a draft since the one before it; three queries, however many there are. A note that
    is left between two of them is not told of yet."""
    earlier = Draft.objects.standing().filter(production_id=draft.production_id, number__lt=draft.number)
    before = earlier.defer("text").last()
    if before is None:
        return FatesSinceBefore(None, {})
    before.production = draft.production
    own = {pk: Trail(subject, position, position) for pk, subject, position in _own_positions(notes)}
    told: dict[int, dict[int, Placement]] = {before.pk: {}, draft.pk: {}}
    for placement in Placement.objects.filter(draft__in=told, note__in=notes):
        if placement.note_id in own:
            told[placement.draft_id][placement.note_id] = placement
    return _told(_Between(before, draft), own, told[before.pk], told[draft.pk])


def fates_to_come(notes: NoteQuerySet, following: NextText) -> FatesSinceBefore:
    """What will become of these notes since the current draft in a text that is about to be published, as the above
    tells it once that is up; the same queries however many there are."""
    draft = following.draft
    before = draft.production.drafts.current()
    if before is None:
        return FatesSinceBefore(None, {})
    own = {pk: Trail(subject, position, position) for pk, subject, position in _own_positions(notes)}
    was = {placement.note_id: placement for placement in Placement.objects.filter(draft=before, note__in=notes)}
    to_come = placements_to_come(draft, wordings=following.wordings)
    now = {placement.note_id: placement for placement in to_come if placement.note_id in own}
    return _told(_Between(before, draft), own, was, now)


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
        elif (earlier := was.get(pk)) is not None and earlier.span is not None:
            position = Position(between.before.pk, earlier.span, earlier.character)
            fates[pk] = between.fate(own[pk].subject, position, placement)
        elif placement.fate == Fate.GONE:
            gone_already += 1
        else:
            found_again += 1
    return FatesSinceBefore(between.before, fates, found_again, gone_already)


@dataclass(frozen=True, slots=True)
class _Between:
    """A draft and the one before it; they are compared when it is first asked what became of something."""

    before: Draft
    draft: Draft

    def fate(self, subject: str, was: Position, now: Placement) -> Fate:
        """What became of a note's lines in the draft before, now that it stands where this placement says."""
        if now.span is None:
            return Fate.GONE
        return fate_at(subject, was, compare_drafts(self.before, self.draft), now.span, now.character)


def fate_at(subject: str, was: Position, comparison: Comparison, span: Span | None, character: str = "") -> Fate:
    """What became of a note from where it was in the comparison's old draft, if in the new one it stands on these
    lines, or on the character of this name.

    Where the comparison finds it elsewhere, it has moved if its words are the same, white space apart, and is reworded
    if not; a character of another name is reworded.
    """
    if span is None:
        return Fate.GONE
    found = carried(Trail(subject, was, was), {was.draft_id: comparison})
    if found.span == span:
        return Fate(found.fate.value)
    if subject == Subject.CHARACTER:
        return Fate.KEPT if same_name(was.character) == same_name(character) else Fate.REWORDED
    same = chosen_text(comparison.old, was.span) == chosen_text(comparison.new, span)
    return Fate.MOVED if same else Fate.REWORDED
