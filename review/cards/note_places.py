"""Where a note stands in the draft that its reader is looking at, and what became of it since it was put down."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.db.models import Max, Q

from review.drafts.models import Draft
from review.drafts.scripts import laid_out
from review.notes.lines import quote, whole_lines
from review.notes.models import Fate, Note, Placement, Subject
from review.notes.page_names import page_name
from review.notes.subjects import heading_as_read
from screenplay import Span
from screenplay.comparing import word_changes

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from screenplay.comparing import WordChange


@dataclass(frozen=True, slots=True)
class NotePlace:
    """Where a note is in the draft shown.

    `span` are its lines there, None where they are gone or it was never there; `at` where its card stands: a scene's
    note at the heading. `page` is "Page 3" or "Pages 3 to 4", empty without lines; `lines` are the whole lines there;
    `name` is what its scene or its character is called.
    """

    span: Span | None
    at: Span | None
    page: str
    lines: str
    name: str


@dataclass(frozen=True, slots=True)
class Since:
    """What became of a note since the draft, by its number, that it was left on or in which a writer placed it last.

    `last` is the last draft, of those up to the one shown, in which it had lines. `fate` is None on the note's own
    draft. `name` is what its scene or its character was called then; `words` and `words_now` are those that its fate is
    told by.
    """

    draft: int
    last: int
    fate: Fate | None
    is_by_hand: bool
    name: str
    words: str
    words_now: str
    subject: str

    @property
    def label(self) -> str:
        """The fate in a word; of a character with another name, that it was renamed."""
        if self.fate is None:
            return ""
        is_renamed = self.subject == Subject.CHARACTER and self.fate == Fate.REWORDED
        return "Renamed" if is_renamed else str(self.fate.label)

    @property
    def changes(self) -> tuple[WordChange, ...]:
        """What became of the note's words between then and now."""
        return word_changes(self.words, self.words_now)


@dataclass(frozen=True, slots=True)
class Stood:
    """How a note is placed: in the draft shown, and last by hand in a draft before it, each None where it is not;
    `last` is the number of the last draft in which one that is gone had lines."""

    note: Note
    here: Placement | None = None
    by_hand: Placement | None = None
    last: int | None = None

    @property
    def put(self) -> Note | Placement:
        """Where it was put, by its author or since then by hand."""
        return self.by_hand or self.note

    def words(self, texts: Mapping[int, str]) -> str:
        """Its words where it was put."""
        if self.by_hand is None or self.by_hand.span is None:
            return self.note.quoted
        return quote(texts[self.by_hand.draft_id], self.by_hand.span)

    def standing(self, draft: Draft) -> NotePlace:
        """Where it is in a draft."""
        stands = self.note if self.note.draft_id == draft.pk else self.here
        span = stands.span if stands else None
        if stands is None or span is None:
            return NotePlace(None, None, "", "", "")
        at = _heading(draft.text, span) if self.note.subject == Subject.SCENE else span
        name = heading_as_read(quote(draft.text, at)) if self.note.subject == Subject.SCENE else stands.character
        page = page_name(laid_out(draft), at.first_line, at.last_line)
        return NotePlace(span, at, page, whole_lines(draft.text, span.first_line, span.last_line), name)

    def since(self, standing: NotePlace, draft: Draft, texts: Mapping[int, str]) -> Since:
        """What became of it by the time that it stands so in a draft."""
        is_scene = self.note.subject == Subject.SCENE
        words = self.words(texts)
        name = heading_as_read(words.split("\n", 1)[0]) if is_scene else self.put.character
        now = standing.name if is_scene else quote(draft.text, standing.at) if standing.at else ""
        return Since(
            draft=self.put.draft.number,
            last=(self.last or self.put.draft.number) if standing.span is None else draft.number,
            fate=Fate(self.here.fate) if self.here else None,
            is_by_hand=self.here is not None and self.here.placed_by_id is not None,
            name=name,
            words=name if is_scene else words,
            words_now=now,
            subject=self.note.subject,
        )


def stood(notes: Sequence[Note], draft: Draft) -> dict[int, Stood]:
    """How each note is placed in a draft and before it, by the note's key; one query, and one more where some are
    gone."""
    here: dict[int, Placement] = {}
    by_hand: dict[int, Placement] = {}
    earlier = Q(placed_by__isnull=False, draft__number__lt=draft.number, draft__withdrawn_at=None)
    placements = Placement.objects.filter(Q(draft=draft) | earlier, note__in=[note.pk for note in notes])
    for placement in placements.order_by("draft__number").select_related("draft").defer("draft__text"):
        if placement.draft_id == draft.pk:
            here[placement.note_id] = placement
        elif placement.span is not None:
            by_hand[placement.note_id] = placement
    last = _last_with_lines([pk for pk, placement in here.items() if placement.span is None], draft)
    return {note.pk: Stood(note, here.get(note.pk), by_hand.get(note.pk), last.get(note.pk)) for note in notes}


def _last_with_lines(gone: Sequence[int], draft: Draft) -> dict[int, int]:
    """The number of the last draft before this one in which each of these notes had lines, if it was carried to one."""
    if not gone:
        return {}
    earlier = Placement.objects.filter(draft__number__lt=draft.number, draft__withdrawn_at=None)
    placed = earlier.filter(note__in=gone).exclude(fate=Fate.GONE).order_by()
    return dict(placed.values("note").annotate(last=Max("draft__number")).values_list("note", "last"))


def texts_beside(stood: Mapping[int, Stood], draft: Draft) -> dict[int, str]:
    """The texts of the drafts whose lines are shown beside others, by the draft's key: those that a wording would
    replace, and those on which a writer placed a note; one query at most."""
    wanted = {each.note.draft_id for each in stood.values() if each.note.wording is not None}
    wanted |= {each.by_hand.draft_id for each in stood.values() if each.by_hand}
    wanted.discard(draft.pk)
    return {draft.pk: draft.text} | dict(Draft.objects.filter(pk__in=wanted).values_list("pk", "text"))


def _heading(text: str, scene: Span) -> Span:
    """The heading alone of a scene's lines, where its notes stand."""
    return Span(scene.first_line, 0, scene.first_line, len(whole_lines(text, scene.first_line, scene.first_line)))
