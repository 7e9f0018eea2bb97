"""The notes that stood where a new draft changed, what became of each, and which of them it answers."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from html import unescape
from typing import TYPE_CHECKING

from django.db.models import Prefetch
from django.utils.html import strip_tags
from django.utils.text import Truncator

from review.cards.came_to import what_they_came_to
from review.decisions.in_force import decision_in_force
from review.decisions.models import Decision
from review.notes.markdown import render_markdown
from review.notes.models import Fate, Note, Placement, Subject

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from review.cards.came_to import CameTo
    from review.changes.scene_changes import Changes
    from review.drafts.models import Draft
    from review.people.models import Member

EXCERPT_WORDS = 26


@dataclass(frozen=True, slots=True)
class NoteAcrossDrafts:
    """A note with its lines in the old draft and in the new, None where it has none there.

    `fate` is what became of it in the new draft, None where that is not known; it is told since the draft that it was
    left on, by its number `since` where that is not the old one, and None where it is. `came_to` says what was decided,
    if anything was, and `answered_in` is the draft that answers it, if that is the new one or one between the two.
    """

    note: Note
    was: range | None
    now: range | None
    fate: Fate | None
    since: int | None
    came_to: CameTo | None
    answered_in: Draft | None

    @property
    def state(self) -> str:
        """What was decided, or in which draft it was written in."""
        return self.came_to.word.lower() if self.came_to else "not decided yet"

    @property
    def excerpt(self) -> str:
        """How the note begins, in plain words; of one with a wording alone, the wording."""
        words = strip_tags(render_markdown(self.note.body)) or self.note.wording or "A wording that cuts these lines"
        return Truncator(" ".join(unescape(words).split())).words(EXCERPT_WORDS, truncate=" …")

    @property
    def lines_word(self) -> str:
        return "Its lines are" if self.was and len(self.was) > 1 else "Its line is"

    @property
    def is_for_writers(self) -> bool:
        return self.note.audience == "writer"


@dataclass(frozen=True, slots=True)
class NoteAtChange:
    """A note at its place on the Changes screen: the row that shows its lines and what it stands beside, "" where no
    row does."""

    across: NoteAcrossDrafts
    anchor: str
    beside: str


def notes_across_drafts(
    member: Member, old: Draft, new: Draft, *, for_writers_too: bool = True
) -> list[NoteAcrossDrafts]:
    """The notes this member may read that were left before the new draft and have lines in either, in the order of the
    old; four queries, and a few more where wordings are to be written in. `for_writers_too` takes in those for the
    writer's eyes only."""
    readable = Note.objects.visible_to(member).not_withdrawn()
    visible = readable if for_writers_too else readable.for_everyone()
    decisions = Decision.objects.select_related("written_in__draft").defer("written_in__draft__text")
    left_before = visible.filter(draft__number__lt=new.number).select_related("author__person", "draft")
    notes = left_before.defer("draft__text").prefetch_related(Prefetch("decisions", queryset=decisions))
    in_force = (decision_in_force(note.decisions.all()) for note in notes)
    came_to = what_they_came_to(member, filter(None, in_force))
    placements: dict[int, dict[int, Placement]] = defaultdict(dict)
    for placement in Placement.objects.filter(draft__in=(old, new), note__in=[note.pk for note in notes]):
        placements[placement.note_id][placement.draft_id] = placement
    found = [_standing(note, old, new, placements[note.pk], came_to.get(note.pk)) for note in notes]
    return sorted((each for each in found if each.was or each.now), key=_position)


def notes_at_changes(notes: Iterable[NoteAcrossDrafts], changes: Changes) -> list[NoteAtChange]:
    """Those of the notes that stood on changed lines of the old draft, and those that the new one answers."""
    return [
        _placed(each, changes)
        for each in notes
        if each.answered_in or (each.was and each.fate and not changes.changed_lines.isdisjoint(each.was))
    ]


def _standing(
    note: Note, old: Draft, new: Draft, placements: Mapping[int, Placement], came_to: CameTo | None
) -> NoteAcrossDrafts:
    now = placements.get(new.pk)
    written_in = came_to.decision.answered_in if came_to else None
    is_answer = written_in is not None and old.number < written_in.number <= new.number
    return NoteAcrossDrafts(
        note=note,
        was=_lines(note if note.draft_id == old.pk else placements.get(old.pk)),
        now=_lines(now),
        fate=Fate(now.fate) if now else None,
        since=None if note.draft_id == old.pk else note.draft.number,
        came_to=came_to,
        answered_in=written_in if is_answer else None,
    )


def _lines(stands: Note | Placement | None) -> range | None:
    span = stands.span if stands else None
    return range(span.first_line, span.last_line + 1) if span else None


def _placed(each: NoteAcrossDrafts, changes: Changes) -> NoteAtChange:
    """A note about a scene stands beside its heading; any other beside the first changed line it was on. One on lines
    that come when they are opened leads to where they are opened."""
    was, now = each.was or range(0), each.now or range(0)
    changed = [line for line in was if line in changes.changed_lines and each.note.subject != Subject.SCENE]
    old_anchors = (changes.anchors[line] for line in (*changed, *was) if line in changes.anchors)
    new_anchors = (changes.new_anchors[line] for line in now if line in changes.new_anchors)
    anchor = next(old_anchors, "") or next(new_anchors, "")
    beside = changes.beside.get(anchor, "")
    return NoteAtChange(each, beside if beside in changes.folded else anchor, beside)


def _position(each: NoteAcrossDrafts) -> tuple[int, int, int]:
    return (each.was or each.now or range(0)).start, each.note.first_char, each.note.pk
