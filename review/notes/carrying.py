"""Where notes stand in later drafts: each follows its lines from where it last stood."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from review.drafts.models import Draft
from review.drafts.scripts import compare_drafts
from review.notes.models import Fate, Note, Placement
from review.productions.models import Production
from screenplay.carry import Span, carry

if TYPE_CHECKING:
    from collections.abc import Iterable

    from django.db.models import QuerySet

    from screenplay.compare import Comparison


@dataclass(frozen=True, slots=True)
class Stand:
    """Where a note last stood: its lines in the newest draft that has them.

    `is_gone` says that a writer has since said by hand that the lines are gone, which no comparison overrules.
    """

    draft_id: int
    span: Span
    is_gone: bool = False


def carry_notes(draft: Draft) -> None:
    """Give every note of the production, withdrawn ones too, its place in a draft that was just published.

    Belongs in the transaction that publishes it. Three queries, inserts of as many rows at a time as the database
    takes, and one comparison with each earlier draft that notes stand in.
    """
    notes = Note.objects.filter(production_id=draft.production_id).exclude(draft=draft)
    stands = last_stands(notes, Placement.objects.filter(note__production_id=draft.production_id))
    earlier = Draft.objects.filter(pk__in={stand.draft_id for stand in stands.values()})
    comparisons = {old.pk: compare_drafts(old, draft) for old in earlier}
    Placement.objects.bulk_create(
        _carried(note_id, stand, draft, comparisons[stand.draft_id]) for note_id, stand in stands.items()
    )


def carry_to_later_drafts(note: Note) -> None:
    """Give a note that was left on an earlier draft its place in every draft since, in the transaction that leaves it.

    The production is locked for the while: a draft being published just then either carries this note or is found here.
    """
    Production.objects.select_for_update(no_key=True).get(pk=note.production_id)
    later = Draft.objects.filter(production_id=note.production_id, number__gt=note.draft.number)
    for draft in later.order_by("number"):
        earlier, span = last_stand_before(note, draft)
        stand = Stand(earlier.pk, span)
        _carried(note.pk, stand, draft, compare_drafts(earlier, draft)).save()


def last_stands(notes: Iterable[Note], placements: QuerySet[Placement]) -> dict[int, Stand]:
    """Where each note last stood, by the note's key; `placements` are all that these notes have, perhaps others too."""
    stands = {note.pk: Stand(note.draft_id, span_of(note)) for note in notes}
    for placement in placements.order_by("draft__number"):
        if (earlier := stands.get(placement.note_id)) is None:
            continue
        if placement.fate != Fate.GONE:
            stands[placement.note_id] = Stand(placement.draft_id, span_of(placement))
        elif placement.placed_by_id is not None:
            stands[placement.note_id] = replace(earlier, is_gone=True)
    return stands


def last_stand_before(note: Note, draft: Draft) -> tuple[Draft, Span]:
    """The newest draft before this one that has the note's lines, and where they are in it."""
    placements = note.placements.filter(draft__number__lt=draft.number)
    stand = last_stands([note], placements)[note.pk]
    return (note.draft if stand.draft_id == note.draft_id else Draft.objects.get(pk=stand.draft_id)), stand.span


def span_of(standing: Note | Placement) -> Span:
    """The lines of a note, or of a placement that has some."""
    return Span(standing.first_line or 1, standing.first_char or 0, standing.last_line or 1, standing.last_char or 0)


def _carried(note_id: int, stand: Stand, draft: Draft, comparison: Comparison) -> Placement:
    if stand.is_gone:
        return placement_at(note_id, draft, Fate.GONE, None)
    carried = carry(stand.span, comparison)
    return placement_at(note_id, draft, Fate(carried.fate.value), carried.span)


def placement_at(note_id: int, draft: Draft, fate: Fate, span: Span | None) -> Placement:
    """A placement, not yet stored, of a note on these lines of a draft; without lines where they are gone."""
    if span is None:
        return Placement(note_id=note_id, draft=draft, fate=Fate.GONE)
    return Placement(
        note_id=note_id,
        draft=draft,
        fate=fate,
        first_line=span.first_line,
        first_char=span.first_char,
        last_line=span.last_line,
        last_char=span.last_char,
    )
