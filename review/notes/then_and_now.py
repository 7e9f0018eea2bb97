"""Where notes stand in a text that is no draft yet: from their lines in the current draft to those in the text."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.drafts.models import Draft
from review.drafts.scripts import compare_drafts
from review.drafts.texts import hash_text
from review.notes.carrying import Position, Trail, carried
from review.notes.lines import whole_lines
from review.notes.models import Placement, Subject
from screenplay.model import Speech

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.notes.models import Note
    from review.productions.models import Production
    from screenplay import Screenplay, Span
    from screenplay.comparing import Comparison


@dataclass(frozen=True, slots=True)
class WholeLines:
    """Whole lines of a text, from the first to the last, counted from 1; of a character, the cue they first speak
    under."""

    first_line: int
    last_line: int
    lines: str


@dataclass(frozen=True, slots=True)
class ThenAndNow:
    """A note's lines in the current draft and in the text, None where it has none there; `has_changed` tells whether
    their words differ, or those of its whole scene, or all that its character says."""

    then: WholeLines | None
    now: WholeLines | None
    has_changed: bool


def unpublished(production: Production, text: str) -> Draft:
    """A text as the draft it may become, not stored."""
    return Draft(production=production, text=text, sha256=hash_text(text))


def lines_then_and_now(notes: Sequence[Note], draft: Draft, text: str) -> dict[int, ThenAndNow]:
    """Where each note stands in the current draft, and in the text to follow it, by the note's key; one query."""
    comparison = compare_drafts(draft, unpublished(draft.production, text))
    placed = Placement.objects.filter(draft=draft, note__in=[note.pk for note in notes])
    placements = {placement.note_id: placement for placement in placed}
    return {note.pk: _then_and_now(note, placements.get(note.pk), draft, comparison) for note in notes}


def _then_and_now(note: Note, placement: Placement | None, draft: Draft, comparison: Comparison) -> ThenAndNow:
    stands = note if note.draft_id == draft.pk else placement
    if stands is None or stands.span is None:
        return ThenAndNow(None, None, has_changed=False)
    position = Position(draft.pk, stands.span, stands.character)
    found = carried(Trail(note.subject, position, position), {draft.pk: comparison})
    then = _whole_lines(comparison.old, position.span)
    now = _whole_lines(comparison.new, found.span) if found.span else None
    if note.subject == Subject.CHARACTER:
        changed = _says(comparison.old, position.character) != _says(comparison.new, found.character)
    else:
        changed = now is None or then.lines.split() != now.lines.split()
    return ThenAndNow(then, now, changed)


def _whole_lines(script: Screenplay, span: Span) -> WholeLines:
    return WholeLines(span.first_line, span.last_line, whole_lines(script.text, span.first_line, span.last_line))


def _says(script: Screenplay, name: str) -> list[str]:
    """Every line a character speaks, in order."""
    speeches = (element for element in script.elements if isinstance(element, Speech))
    return [line.text for speech in speeches if speech.name.upper() == name.upper() for line in speech.lines]
