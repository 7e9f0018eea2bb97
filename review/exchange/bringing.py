"""What would come in of a file of annotations: what is here already, where each note would stand, who said it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.exchange.iris import iri_for, iri_of
from review.exchange.placing import NoPlace, place
from review.exchange.read_annotations import LeftOut
from review.exchange.selectors import SelectedText
from review.notes.lines import NoSuchLines, quote, whole_lines
from review.notes.models import Note, Reply, Subject
from review.notes.subjects import whole_subject

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.exchange.read_annotations import ReadFile, ReadNote
    from review.people.models import Member
    from screenplay import Span

NOT_HERE = "it answers a note that is not here, and does not come in"
WITHDRAWN = "it answers a note that was withdrawn"


@dataclass(frozen=True, slots=True)
class ComingNote:
    """A note that would come in: what was read of it, its lines in a draft, and the member who said it, None where they
    are none here and stay a name."""

    read: ReadNote
    draft: Draft
    span: Span
    subject: str
    character: str
    said_by: Member | None

    @property
    def quoted(self) -> str:
        return quote(self.draft.text, self.span)


@dataclass(frozen=True, slots=True)
class ComingReply:
    """A reply that would come in, under the note of the key, or under one that comes in with it."""

    read: ReadNote
    note_id: int | None
    said_by: Member | None


@dataclass(frozen=True, slots=True)
class Coming:
    """All that a file would bring: notes and replies, how many are here already, how many decisions stay where they
    were made, and what is left out."""

    notes: tuple[ComingNote, ...]
    replies: tuple[ComingReply, ...]
    here_already: int
    decisions: int
    left_out: tuple[LeftOut, ...]

    @property
    def is_empty(self) -> bool:
        return not self.notes and not self.replies


def coming_in(by: Member, read: ReadFile) -> Coming:
    """What of a file would come into a member's production, in a few queries however much there is.

    A note stands in the draft that it was on, where that is here, else in the current one.
    """
    known = _known(by)
    here = {**known.notes, **known.replies}
    fresh = {note.iri: note for note in read.notes if note.iri not in here}
    left_out = list(read.left_out)
    notes: dict[str, ComingNote] = {}
    places = _DraftsByIri(by)
    people = _people(by)
    for note in fresh.values():
        try:
            notes[note.iri] = places.of(note, people.get(note.person))
        except NoPlace as why:
            left_out.append(LeftOut(f"“{(note.body or note.wording or '')[:60]}”, from {note.name}", str(why)))
    replies: dict[str, ComingReply] = {}
    for reply in (reply for reply in read.replies if reply.iri not in here):
        if (reply.note in known.notes and reply.note not in known.withdrawn) or reply.note in notes:
            replies[reply.iri] = ComingReply(reply, known.notes.get(reply.note), people.get(reply.person))
        else:
            reason = WITHDRAWN if reply.note in known.withdrawn else NOT_HERE
            left_out.append(LeftOut(f"“{reply.body[:60]}”, from {reply.name}", reason))
    met = sum(one.iri in here for one in (*read.notes, *read.replies))
    return Coming(tuple(notes.values()), tuple(replies.values()), met, read.decisions, tuple(left_out))


@dataclass(frozen=True, slots=True)
class _NotesByIri:
    """The notes and the replies of a production by their IRIs; the notes among them that do not stand."""

    notes: dict[str, int]
    replies: dict[str, int]
    withdrawn: frozenset[str]


def _known(by: Member) -> _NotesByIri:
    notes: dict[str, int] = {}
    withdrawn = set()
    of_production = Note.objects.filter(production=by.production_id).order_by()
    for pk, public_id, iri, *gone in of_production.values_list(
        "pk", "public_id", "iri", "withdrawn_at", "draft__withdrawn_at"
    ):
        own = iri or iri_for(Note, public_id)
        notes[own] = pk
        if any(gone):
            withdrawn.add(own)
    said = Reply.objects.filter(note__production=by.production_id).order_by()
    replies = {
        iri or iri_for(Reply, public_id): pk for pk, public_id, iri in said.values_list("pk", "public_id", "iri")
    }
    return _NotesByIri(notes, replies, frozenset(withdrawn))


def _people(by: Member) -> dict[str, Member]:
    """The members of the production by the IRIs of the people that they are."""
    members = by.production.members.filter(removed_at=None).select_related("person")
    return {iri_of(member.person): member for member in members}


class _DraftsByIri:
    """The drafts of a production that notes can stand in."""

    def __init__(self, by: Member) -> None:
        drafts = list(by.production.drafts.standing().select_related("production"))
        self._drafts = {iri_of(draft): draft for draft in drafts}
        self._current = drafts[-1] if drafts else None
        self._texts: dict[int, SelectedText] = {}

    def of(self, note: ReadNote, said_by: Member | None) -> ComingNote:
        """A note in its place. Raises NoPlace."""
        selected = note.selected
        draft = (self._drafts.get(selected.source) if selected else None) or self._current
        if draft is None or selected is None:
            raise NoPlace("there is no draft here that it could be on")
        text = self._texts.setdefault(draft.pk, SelectedText(draft.text))
        try:
            span = place(text, selected, is_source=selected.source == iri_of(draft))
        except NoPlace as why:
            raise NoPlace(str(why).format(draft=f"draft {draft.number}")) from None
        if not note.body and note.wording == whole_lines(draft.text, span.first_line, span.last_line):
            raise NoPlace("it offers what its lines say here already")
        try:
            whole, character = whole_subject(draft, note.subject, span, note.character)
        except NoSuchLines:  # before the first scene, or of nobody who speaks here: it is on its lines
            return ComingNote(note, draft, span, Subject.LINES, "", said_by)
        return ComingNote(note, draft, whole, note.subject, character, said_by)
