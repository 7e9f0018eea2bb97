"""The notes that stood on lines a new draft changed, and what became of each."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from html import unescape
from typing import TYPE_CHECKING

from django.utils.html import strip_tags
from django.utils.text import Truncator

from review.notes.markdown import render_markdown
from review.notes.models import Fate, Note, Placement

if TYPE_CHECKING:
    from collections.abc import Iterable

    from review.decisions.models import Decision
    from review.drafts.changes import Changes
    from review.drafts.models import Draft
    from review.people.models import Member

EXCERPT_LENGTH = 140  # characters


@dataclass(frozen=True, slots=True)
class AffectedNote:
    """A note with its lines in the old draft, its fate in the new one, and the decision that stands on it."""

    note: Note
    lines: range
    fate: Fate
    decision: Decision | None
    anchor: str

    @property
    def excerpt(self) -> str:
        """How the note begins, in plain words; of one with a wording alone, the wording."""
        words = strip_tags(render_markdown(self.note.body)) or self.note.wording or "A wording that cuts these lines"
        return Truncator(unescape(words)).chars(EXCERPT_LENGTH)

    @property
    def lines_word(self) -> str:
        return "Its lines are" if len(self.lines) > 1 else "Its line is"


def affected_notes(member: Member, old: Draft, new: Draft, changes: Changes) -> list[AffectedNote]:
    """The notes this member may read that stood on changed lines of the old draft, in its order; four queries."""
    standing = Note.objects.visible_to(member).standing()
    placements: dict[int, dict[int, Placement]] = defaultdict(dict)
    for placement in Placement.objects.filter(draft__in=(old, new), note__in=standing):
        placements[placement.note_id][placement.draft_id] = placement
    lines_of = dict(_lines_in(old, standing.filter(draft=old), placements))
    touched = [pk for pk, lines in lines_of.items() if not changes.changed_lines.isdisjoint(lines)]
    notes = standing.filter(pk__in=touched).select_related("author__person").prefetch_related("decisions")
    affected = [
        AffectedNote(
            note,
            lines_of[note.pk],
            Fate(placements[note.pk][new.pk].fate),
            _standing_decision(note),
            next((changes.anchors[line] for line in lines_of[note.pk] if line in changes.anchors), "main"),
        )
        for note in notes
        if new.pk in placements[note.pk]
    ]
    return sorted(affected, key=lambda each: (each.lines.start, each.note.first_char, each.note.pk))


def _lines_in(
    old: Draft, notes: Iterable[Note], placements: dict[int, dict[int, Placement]]
) -> Iterable[tuple[int, range]]:
    for note in notes:
        yield note.pk, range(note.first_line, note.last_line + 1)
    for note_id, by_draft in placements.items():
        placement = by_draft.get(old.pk)
        if placement and placement.first_line and placement.last_line:
            yield note_id, range(placement.first_line, placement.last_line + 1)


def _standing_decision(note: Note) -> Decision | None:
    return max(note.decisions.all(), key=lambda decision: decision.ordinal, default=None)
