"""Which notes on a draft somebody takes away, and what each file of them has to say about those that it leaves out."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from review.cards.filters import narrow
from review.cards.filters_in_words import notes_in_words
from review.cards.meeting import meeting_notes
from review.cards.note_cards import note_cards
from review.cards.note_rows import note_rows
from review.cards.script_order import in_script_order
from review.decisions.states import STATES, state_of
from review.drafts.models import Draft
from review.drafts.printed_lines import printed_quote, printed_words
from review.drafts.scripts import read_script
from review.notes.models import Audience, Note, Subject, sense_of_audiences

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from review.cards.filters import FilteredNotes
    from review.cards.note_card import NoteCard, ReplyCard
    from review.people.models import Member


@dataclass(frozen=True, slots=True)
class WhichNotes:
    """Which notes are wanted: those that the address of Notes would narrow them to, by the names and values that it
    has, all where it has none; and whether those for the writer's eyes only are wanted too."""

    narrowing: Mapping[str, str] = field(default_factory=dict)
    for_writers_too: bool = False


@dataclass(frozen=True, slots=True)
class TakenNotes:
    """Notes as they stand on a draft, in script order, those whose lines are gone last. `which` says which they are,
    and `sense` whether notes for the writer's eyes only are among them."""

    draft: Draft
    cards: tuple[NoteCard, ...]
    is_narrowed: bool
    which: str
    sense: str


def taken_notes(member: Member, draft: Draft, choice: WhichNotes) -> TakenNotes:
    """The notes on a draft that the member may read and that stand. A file goes from hand to hand, so those for the
    writer's eyes only are left out unless they are asked for, their author's own too."""
    notes = Note.objects.visible_to(member).not_withdrawn()
    if not choice.for_writers_too:
        notes = notes.for_everyone()
    narrowed = (
        narrowed_notes(member, draft, choice.narrowing, for_writers_too=choice.for_writers_too)
        if choice.narrowing
        else None
    )
    if narrowed:
        notes = notes.filter(pk__in=[row.pk for row in narrowed.rows])
    cards = tuple(in_script_order(note_cards(member, notes, draft)))
    _fetch_texts(cards)
    audiences = [card.note.audience for card in cards]
    return TakenNotes(
        draft,
        cards,
        narrowed is not None,
        f"On draft {draft.number}: {notes_in_words(len(cards), narrowed.filters if narrowed else {})}.",
        sense_of_audiences(audiences, for_writers_too=choice.for_writers_too),
    )


def narrowed_notes(
    member: Member, draft: Draft, narrowing: Mapping[str, str], *, for_writers_too: bool = True
) -> FilteredNotes:
    """The notes that Notes would show at an address, as they stand on a draft. Where those for the writer's eyes only
    are left out, no note meets them: one that stood where several meet by itself would betray them."""
    rows = [row for row in note_rows(member, draft) if not row.is_withdrawn]
    may_meet = [row for row in rows if for_writers_too or row.audience == Audience.EVERYONE]
    return narrow(member, rows, narrowing, meeting_notes(may_meet))


def _fetch_texts(cards: Iterable[NoteCard]) -> None:
    """Have the drafts of those notes whose lines are gone, or read otherwise by now, with their texts, in one query."""
    quoted = [card for card in cards if not card.stands.span or lines_by_now(card)]
    drafts = Draft.objects.select_related("production").in_bulk({card.note.draft_id for card in quoted})
    for card in quoted:
        card.note.draft = drafts[card.note.draft_id]


def lines_as_left(card: NoteCard) -> str:
    """What the lines of a note read when it was left, as printed; empty where it is on no lines."""
    if card.subject != Subject.LINES:
        return ""
    return printed_quote(card.note.quoted, begins_a_line=card.note.first_char == 0)


def lines_by_now(card: NoteCard) -> str:
    """What they read in the draft, as printed; empty where they read the same still, or are gone."""
    if card.subject != Subject.LINES or card.stands.span is None or not card.is_from_earlier:
        return ""
    if card.since.words_now.split() == card.note.quoted.split():
        return ""
    now = printed_words(read_script(card.draft), card.stands.span)
    return "" if now.split() == lines_as_left(card).split() else now


def state_in_words(card: NoteCard) -> str:
    """What became of a note, in a word: "Undecided", "Declined", "Written in"."""
    if card.overtaken:
        return card.overtaken.word
    decision = card.decision
    state = state_of(
        card.kind,
        decision.outcome if decision else None,
        has_wording=card.note.wording is not None,
        is_written_in=card.decisions.answer is not None,
    )
    return STATES[state]


def replies_that_stand(card: NoteCard) -> list[ReplyCard]:
    return [reply for reply in card.replies if not reply.is_withdrawn]
