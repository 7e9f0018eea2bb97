"""Where notes stand in later drafts: each follows its lines, its scene or its character from where it stood."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from review.drafts.models import Draft
from review.drafts.scripts import compare_drafts
from review.making.progress import tell
from review.notes.models import Fate, Note, Placement, Subject
from screenplay import Span, carry, carry_character, carry_scene
from screenplay.next_draft import GONE, SpanFate, SpanFateKind, better_character, better_span
from screenplay.script import chosen_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from django.db.models import QuerySet

    from screenplay.comparing import Comparison

AS_IT_WAS = frozenset({SpanFateKind.KEPT, SpanFateKind.MOVED})
LINES = ("first_line", "first_char", "last_line", "last_char")


@dataclass(frozen=True, slots=True)
class Position:
    """A note's lines in one draft. `character` is what a note's character is called there, else empty."""

    draft_id: int
    span: Span
    character: str = ""


@dataclass(frozen=True, slots=True)
class Trail:
    """Where a note of a subject stood: `own` is where it was put, by its author or since then by hand; `last` the
    newest draft that has its lines.

    `is_gone` says that a writer has since said by hand that the lines are gone, which no comparison overrules;
    `is_rewritten` that its own words are known to have been rewritten here into those where it last stood.
    """

    subject: str
    own: Position
    last: Position
    is_gone: bool = False
    is_rewritten: bool = False

    def after(self, placement: Placement) -> Trail:
        """The trail with one more placement."""
        span = placement.span
        if span is None:
            return self if placement.placed_by_id is None else replace(self, is_gone=True)
        last = Position(placement.draft_id, span, placement.character)
        if placement.placed_by_id is not None:
            return Trail(self.subject, last, last)
        is_rewritten = self.is_rewritten or (placement.is_known and placement.fate == Fate.REWORDED)
        return replace(self, last=last, is_gone=False, is_rewritten=is_rewritten)


def carry_notes(
    draft: Draft, compared: Mapping[int, Comparison] | None = None, wordings: Mapping[int, Span | None] | None = None
) -> None:
    """Give every note of the production, withdrawn ones too, its place in a draft that was just published.

    Belongs in the transaction that publishes it, which holds up other people's: `compared` are the comparisons worked
    out before, as `compared_beforehand` gives them. Four queries, however many notes and drafts there are.
    """
    Placement.objects.bulk_create(placements_to_come(draft, compared, wordings))


def placements_to_come(
    draft: Draft, compared: Mapping[int, Comparison] | None = None, wordings: Mapping[int, Span | None] | None = None
) -> list[Placement]:
    """Where every note of the production stands in a draft that is about to be published; not stored.

    `wordings` are the lines of the draft, by the note's key, that read as the note itself proposed, None where it
    proposed to cut them: there it stands.
    """
    trails = _trails_to(draft)
    comparisons = _comparisons(draft, trails.values(), compared or {})
    places = {trail: carried(trail, comparisons) for trail in set(trails.values())}  # many stand where others do
    own = wordings or {}
    return [
        _on_its_wording(note_id, draft, own[note_id]) if note_id in own else _placement(note_id, draft, places[trail])
        for note_id, trail in trails.items()
    ]


def compared_beforehand(draft: Draft) -> dict[int, Comparison]:
    """What a draft not yet stored is in comparison with each draft that a note would be carried from, by its key."""
    return _comparisons(draft, _trails_to(draft).values(), {})


def compare_with_later(draft: Draft) -> None:
    """Compare a draft with each one since, so that leaving a note on it finds these comparisons made."""
    for later in Draft.objects.filter(production_id=draft.production_id, number__gt=draft.number):
        compare_drafts(draft, later)


def carry_to_later_drafts(note: Note) -> None:
    """Give a note that was left on an earlier draft its place in every draft since, in the transaction that leaves it.

    It holds the production: a draft being published just then either carries this note or is found here.
    """
    drafts = Draft.objects.filter(production_id=note.production_id, number__gte=note.draft.number)
    own, *later = drafts.order_by("number")
    known = {own.pk: own}
    position = Position(own.pk, note.span, note.character)
    trail = Trail(note.subject, position, position)
    for draft in later:
        comparisons = {pk: compare_drafts(known[pk], draft) for pk in {trail.own.draft_id, trail.last.draft_id}}
        placement = _placement(note.pk, draft, carried(trail, comparisons))
        placement.save()
        known[draft.pk] = draft
        if draft.withdrawn_at is None:
            trail = trail.after(placement)


def carried(trail: Trail, comparisons: Mapping[int, Comparison]) -> SpanFate:
    """Where a note stands in a draft, by the better of two ways: from where it was put, and from where it last stood.

    `comparisons` are with the drafts that it was put on and last stood in, by their keys. Its fate is since the draft
    that it was put on. Words that are known to have been rewritten, and that stand as they were rewritten, are it:
    others that are more like its own are not.
    """
    if trail.is_gone:
        return GONE
    comparison = comparisons[trail.own.draft_id]
    direct = _fate_of(trail.subject, trail.own, comparison)
    if trail.last.draft_id == trail.own.draft_id:
        return direct
    chain = _fate_of(trail.subject, trail.last, comparisons[trail.last.draft_id])
    if trail.subject == Subject.CHARACTER:
        return better_character(chain, direct, trail.own.character)
    if trail.is_rewritten and chain.fate in AS_IT_WAS:
        chain = replace(chain, is_known=True)
    return better_span(chain, direct, chosen_words(comparison.old, trail.own.span), comparison.new)


def _fate_of(subject: str, position: Position, comparison: Comparison) -> SpanFate:
    if subject == Subject.CHARACTER:
        return carry_character(position.character, comparison)
    return carry_scene(position.span, comparison) if subject == Subject.SCENE else carry(position.span, comparison)


def trails(notes: QuerySet[Note], placements: QuerySet[Placement]) -> dict[int, Trail]:
    """Where each note stood, by the note's key, in two queries; `placements` are all these notes have, perhaps more.
    Those in withdrawn drafts count for nothing."""
    found: dict[int, Trail] = {}
    for note_id, subject, character, draft_id, *lines in notes.values_list(
        "pk", "subject", "character", "draft_id", *LINES
    ):
        position = Position(draft_id, Span(*lines), character)
        found[note_id] = Trail(subject, position, position)
    for placement in placements.filter(draft__withdrawn_at=None).order_by("draft__number"):
        if placement.note_id in found:
            found[placement.note_id] = found[placement.note_id].after(placement)
    return found


def trail_before(note: Note, draft: Draft) -> Trail:
    """Where a note stood in the drafts before this one."""
    return trails(Note.objects.filter(pk=note.pk), note.placements.filter(draft__number__lt=draft.number))[note.pk]


def last_position_before(note: Note, draft: Draft) -> tuple[Draft, Span]:
    """The newest draft before this one that has the note's lines, and where they are in it."""
    last = trail_before(note, draft).last
    return (note.draft if last.draft_id == note.draft_id else Draft.objects.get(pk=last.draft_id)), last.span


def _placement(note_id: int, draft: Draft, found: SpanFate) -> Placement:
    placement = Placement.of(note_id, draft, found.fate.value, found.span, found.character)
    placement.is_known = found.is_known
    return placement


def _on_its_wording(note_id: int, draft: Draft, lines: Span | None) -> Placement:
    placement = Placement.of(note_id, draft, Fate.REWORDED, lines)
    placement.is_known = True
    return placement


def _trails_to(draft: Draft) -> dict[int, Trail]:
    """Where all notes stood that a draft is to carry."""
    notes = Note.objects.filter(production_id=draft.production_id)
    if draft.pk is not None:
        notes = notes.exclude(draft=draft)
    return trails(notes, Placement.objects.filter(note__production_id=draft.production_id))


def _comparisons(draft: Draft, stood: Iterable[Trail], compared: Mapping[int, Comparison]) -> dict[int, Comparison]:
    """The comparisons with all drafts that these notes were put on or last stood in; those not `compared` yet, now."""
    wanted = {position.draft_id for trail in stood for position in (trail.own, trail.last)}
    missing = Draft.objects.filter(pk__in=wanted - compared.keys())
    found = dict(compared)
    for done, old in enumerate(missing, 1):
        tell(f"It is compared with draft {old.number}", done, len(missing))
        found[old.pk] = compare_drafts(old, draft)
    return found
