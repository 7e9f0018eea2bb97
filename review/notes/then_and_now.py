"""Where notes stand in a text that is no draft yet: from their lines in the current draft to those in the text."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.drafts.models import Draft
from review.drafts.scripts import compare_drafts
from review.drafts.texts import hash_text
from review.notes.carrying import Spot, Stand, carried, span_of
from review.notes.lines import whole_lines
from review.notes.models import Placement, Subject
from screenplay.model import Speech

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.notes.models import Note
    from review.productions.models import Production
    from screenplay.comparing.compare import Comparison
    from screenplay.model import Screenplay
    from screenplay.next_draft.carry import Span


@dataclass(frozen=True, slots=True)
class Stretch:
    """Whole lines of a text, from the first to the last, counted from 1; of a character, the cue they first speak
    under."""

    first_line: int
    last_line: int
    lines: str


@dataclass(frozen=True, slots=True)
class Followed:
    """A note's lines in the current draft and in the text, None where it has none there; `has_changed` tells whether
    their words differ, or those of its whole scene, or all that its character says."""

    then: Stretch | None
    now: Stretch | None
    has_changed: bool


def unpublished(production: Production, text: str) -> Draft:
    """A text as the draft it may become, not stored."""
    return Draft(production=production, text=text, sha256=hash_text(text))


def follow(notes: Sequence[Note], draft: Draft, text: str) -> dict[int, Followed]:
    """Where each note stands in the current draft, and in the text to follow it, by the note's key; one query."""
    comparison = compare_drafts(draft, unpublished(draft.production, text))
    placed = Placement.objects.filter(draft=draft, note__in=[note.pk for note in notes])
    placements = {placement.note_id: placement for placement in placed}
    return {note.pk: _followed(note, placements.get(note.pk), draft, comparison) for note in notes}


def _followed(note: Note, placement: Placement | None, draft: Draft, comparison: Comparison) -> Followed:
    stands = note if note.draft_id == draft.pk else placement
    if stands is None or stands.first_line is None:
        return Followed(None, None, has_changed=False)
    spot = Spot(draft.pk, span_of(stands), stands.character)
    found = carried(Stand(note.subject, spot, spot), {draft.pk: comparison})
    then = _stretch(comparison.old, spot.span)
    now = _stretch(comparison.new, found.span) if found.span else None
    if note.subject == Subject.CHARACTER:
        changed = _says(comparison.old, spot.character) != _says(comparison.new, found.character)
    else:
        changed = now is None or then.lines.split() != now.lines.split()
    return Followed(then, now, changed)


def _stretch(script: Screenplay, span: Span) -> Stretch:
    return Stretch(span.first_line, span.last_line, whole_lines(script.text, span.first_line, span.last_line))


def _says(script: Screenplay, name: str) -> list[str]:
    """Every line a character speaks, in order."""
    speeches = (element for element in script.elements if isinstance(element, Speech))
    return [line.text for speech in speeches if speech.name.upper() == name.upper() for line in speech.lines]
