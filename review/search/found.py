"""Where words stand in a draft, in the notes on it and under them, in script order, for one member."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.db.models import Q

from review.drafts.scripts import laid_out
from review.findable.models import Findable
from review.findable.terms import pieces
from review.notes.markdown import without_markdown
from review.notes.models import Note, Placement, Reply, Subject
from review.notes.page_names import page_name

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.drafts.models import Draft
    from review.findable.terms import Piece, Term
    from review.people.models import Member
    from screenplay import Span

MOST = 200  # lines, and as many of what was said
BESIDE = 90  # characters around what is found in what was said
NOWHERE = 10**9


@dataclass(frozen=True, slots=True)
class FoundText:
    """A line, a note or a reply in which words were found: what it is, the line where it stands in the draft, None
    where its lines are gone, the name of its page, and its words. `note` is the public id of the note that it is of."""

    what: str
    line: int | None
    page: str
    pieces: tuple[Piece, ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class FoundTexts:
    """All that was found, in script order: each line before what was said about it, and last what stands on lines that
    are gone. `more_lines` and `more_said` say that there are more than are shown."""

    texts: tuple[FoundText, ...]
    lines: int
    notes: int
    replies: int
    more_lines: bool
    more_said: bool

    @property
    def has_more(self) -> bool:
        return self.more_lines or self.more_said


def find(member: Member, draft: Draft, terms: Sequence[Term]) -> FoundTexts:
    """The texts in which all terms stand, of those that the member may read; three queries however many there are."""
    on_lines = list(Findable.objects.filter(draft=draft).with_words(terms).order_by("line")[: MOST + 1])
    said = _said(member, draft, terms)
    notes = {found.pk: _note_of(found) for found in said}
    places = _places(draft, {*notes.values()})
    ranked = [((found.line or 0, 0, found.pk), _line(draft, found, terms)) for found in on_lines[:MOST]]
    for found in said[:MOST]:
        note = notes[found.pk]
        span = places.get(note.pk)
        rank = (span.first_line if span else NOWHERE, 1, found.pk)
        ranked.append((rank, _of_note(draft, found, note, span, terms)))
    return FoundTexts(
        texts=tuple(text for _, text in sorted(ranked, key=lambda one: one[0])),
        lines=min(len(on_lines), MOST),
        notes=len({found.note_id for found in said[:MOST]} - {None}),
        replies=sum(found.reply_id is not None for found in said[:MOST]),
        more_lines=len(on_lines) > MOST,
        more_said=len(said) > MOST,
    )


def _said(member: Member, draft: Draft, terms: Sequence[Term]) -> list[Findable]:
    """What was said about a draft or carried to it, that stands, and that is not kept from the member."""
    here = Q(draft=draft) | Q(pk__in=Placement.objects.filter(draft=draft).values("note"))
    notes = Note.objects.visible_to(member).not_withdrawn().filter(here).order_by().values("pk")
    replies = Reply.objects.filter(withdrawn_at=None, note__in=notes).open_to(member).order_by().values("pk")
    of_production = Findable.objects.filter(production_id=member.production_id)
    found = of_production.filter(Q(note__in=notes) | Q(reply__in=replies)).with_words(terms)
    people = ("note__author__person", "reply__author__person", "reply__note__author__person")
    return list(found.select_related(*people).order_by("pk")[: MOST + 1])


def _note_of(found: Findable) -> Note:
    """The note that said it, or that it was said under."""
    if found.note is not None:
        return found.note
    assert found.reply is not None  # a text in the index that is of no draft is of one of both
    return found.reply.note


def _places(draft: Draft, notes: set[Note]) -> dict[int, Span]:
    """The lines of notes in a draft, by their keys; a scene's are its heading. Those whose lines are gone have none."""
    placed = Placement.objects.filter(draft=draft, note__in=[note.pk for note in notes])
    places = {placement.note_id: placement.span for placement in placed}
    found = {note.pk: note.span if note.draft_id == draft.pk else places.get(note.pk) for note in notes}
    return {pk: span for pk, span in found.items() if span is not None}


def _line(draft: Draft, found: Findable, terms: Sequence[Term]) -> FoundText:
    line = found.line or 1
    return FoundText("", line, page_name(laid_out(draft), line, line), pieces(found.text, terms, len(found.text)))


def _of_note(draft: Draft, found: Findable, note: Note, span: Span | None, terms: Sequence[Term]) -> FoundText:
    last = span.first_line if span and note.subject == Subject.SCENE else span.last_line if span else 0
    return FoundText(
        what=_what(found, note),
        line=span.first_line if span else None,
        page=page_name(laid_out(draft), span.first_line, last) if span else "Its lines are gone",
        pieces=pieces_said(found, terms),
        note=note.public_id,
    )


def pieces_said(found: Findable, terms: Sequence[Term]) -> tuple[Piece, ...]:
    """What was said, as it reads on the page; as it was typed where it offers a wording, or where the words stand in a
    link alone."""
    typed = " ".join(found.text.split())
    read = pieces(typed if found.is_wording else without_markdown(found.text), terms, BESIDE)
    return read if any(piece.is_found for piece in read) else pieces(typed, terms, BESIDE)


def _what(found: Findable, note: Note) -> str:
    if found.reply:
        return f"{found.reply.author_name} replied to {note.author_name}"
    return f"{note.author_name} offers" if found.is_wording else f"{note.get_kind_display()} from {note.author_name}"
