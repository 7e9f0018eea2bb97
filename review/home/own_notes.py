"""A reader's own notes and what became of each: what was done about them first, then what waits."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from django.core.paginator import Page, Paginator
from django.db.models import OuterRef, Subquery

from review.cards.note_cards import note_cards
from review.decisions.in_force import IS_WRITTEN_IN, decisions_in_force
from review.decisions.note_decisions import MOST_SHOWN_LINES
from review.decisions.states import ANSWERED, ENDS, STATES, UNDECIDED, WRITTEN_IN, state_of
from review.drafts.models import Draft
from review.drafts.printed_lines import printed_quote
from review.notes.lines import whole_lines
from review.notes.models import Note, Subject
from screenplay.comparing import word_changes
from screenplay.script import same_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from review.cards.note_card import NoteCard
    from review.people.models import Member
    from screenplay.comparing import WordChange

NOTES_A_PAGE = 40
# Of one's own questions one asks first what the answer is.
SECTIONS = (ANSWERED, *(state for state in ENDS if state != ANSWERED))
TITLES = STATES | {ANSWERED: "Your questions, answered", UNDECIDED: "Waiting for the writer"}


@dataclass(frozen=True, slots=True)
class OwnNote:
    """A note of the reader's with its lines as they were printed when it was left, and as they are in the draft that
    `draft` names: the one that has it written in, else the current one; `after` is None where they are gone there, or
    where there is nothing to compare."""

    card: NoteCard
    before: str
    after: str | None
    draft: int

    @property
    def changes(self) -> tuple[WordChange, ...]:
        return word_changes(self.before, self.after or "")

    @property
    def has_changed(self) -> bool:
        return self.after is not None and not same_words(self.before, self.after)


@dataclass(frozen=True, slots=True)
class OwnSection:
    """Notes that came to the same end, in script order; of those written in, of one draft."""

    title: str
    notes: tuple[OwnNote, ...]


@dataclass(frozen=True, slots=True)
class _NoteEnd:
    """What a note came to, before its card is made: the state, and the number of the draft that has it written in."""

    pk: int
    state: str
    written_in: int | None

    @property
    def title(self) -> str:
        return f"Written in, draft {self.written_in}" if self.state == WRITTEN_IN else TITLES[self.state]

    @property
    def order(self) -> tuple[int, int]:
        return SECTIONS.index(self.state), -(self.written_in or 0)


@dataclass(frozen=True, slots=True)
class OwnNotes:
    """A page of a reader's notes, section by section, and how many there are in all."""

    sections: tuple[OwnSection, ...]
    page: Page[_NoteEnd]
    count: int
    waiting: int


def own_notes(member: Member, draft: Draft, number: str = "") -> OwnNotes:
    """The notes that a member left and did not take back, as they stand in the current draft; the same queries however
    many there are."""
    ends = _ends(member)
    page = Paginator(ends, NOTES_A_PAGE).get_page(number)
    wanted = [end.pk for end in page.object_list]
    cards = {card.note.pk: card for card in note_cards(member, Note.objects.filter(pk__in=wanted), draft)}
    texts = _texts(cards.values(), draft)
    sections = tuple(
        OwnSection(title, tuple(_own_note(cards[end.pk], texts) for end in together))
        for title, together in groupby(page.object_list, key=lambda end: end.title)
    )
    waiting = sum(end.state == UNDECIDED for end in ends)
    return OwnNotes(sections, page, len(ends), waiting)


def _ends(member: Member) -> list[_NoteEnd]:
    standing = decisions_in_force(note=OuterRef("pk"))
    mine = Note.objects.visible_to(member).of(member).not_withdrawn()
    told = mine.annotate(
        outcome=Subquery(standing.values("outcome")),
        written=Subquery(standing.filter(IS_WRITTEN_IN).values("written_in__draft__number")),
    ).order_by("draft__number", "first_line", "first_char", "pk")
    ends = [
        _NoteEnd(pk, state_of(kind, outcome, has_wording=wording is not None, is_written_in=bool(written)), written)
        for pk, kind, wording, outcome, written in told.values_list("pk", "kind", "wording", "outcome", "written")
    ]
    return sorted(ends, key=lambda end: end.order)


def _texts(cards: Iterable[NoteCard], draft: Draft) -> dict[int, str]:
    """The texts of the drafts that these notes were left on, by their keys; one query at most."""
    wanted = {card.note.draft_id for card in cards} - {draft.pk}
    earlier = dict(Draft.objects.filter(pk__in=wanted).values_list("pk", "text")) if wanted else {}
    return {draft.pk: draft.text} | earlier


def _own_note(card: NoteCard, texts: Mapping[int, str]) -> OwnNote:
    """With as many of its lines as are shown. Whole scenes, and characters, are not set beside each other."""
    note, answer = card.note, card.decisions.answer
    if note.subject != Subject.LINES:
        return OwnNote(card, "", None, card.draft.number)
    before = _first_lines(texts[note.draft_id], note.first_line, note.last_line)
    if answer is not None:
        return OwnNote(card, before, printed_quote(answer.lines) if answer.span else None, answer.draft.number)
    span = card.stands.span if card.is_from_earlier else None
    after = _first_lines(card.draft.text, span.first_line, span.last_line) if span else None
    return OwnNote(card, before, after, card.draft.number)


def _first_lines(text: str, first: int, last: int) -> str:
    return printed_quote(whole_lines(text, first, min(last, first + MOST_SHOWN_LINES - 1)))
