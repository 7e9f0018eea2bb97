"""A draft's source with its notes woven in, as Fountain has notes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.exchange.note_table import offered
from review.exchange.taken_notes import lines_by_now, replies_that_stand, state_in_words
from review.notes.models import Audience, Subject
from screenplay.fountain import with_notes

if TYPE_CHECKING:
    from collections.abc import Iterator

    from review.cards.note_card import NoteCard
    from review.exchange.taken_notes import TakenNotes

AT_THE_END = 0


def as_fountain(taken: TakenNotes) -> bytes:
    """The draft's text, every line of it as it is, with each note behind the last of its lines, a scene's behind the
    heading; those whose lines are gone stand at the end, and a last one says which they are. UTF-8, with
    the mark that the draft came with."""
    told = [(_behind(card), note_in_words(card)) for card in taken.cards]
    text = with_notes(taken.draft.text, [*told, (AT_THE_END, f"{taken.which} {taken.sense}")])
    return text.encode("utf-8-sig" if taken.draft.bom else "utf-8")


def _behind(card: NoteCard) -> int:
    return card.stands.at.last_line if card.stands.at else AT_THE_END


def note_in_words(card: NoteCard) -> str:
    """A note as text: who says it, what became of it, what it says and offers, and what was said under it."""
    return "\n".join(_paragraphs(card))


def _paragraphs(card: NoteCard) -> Iterator[str]:
    name = card.stands.name or card.since.name
    about = "" if card.subject == Subject.LINES else f", on {name}"
    only = ", for the writer’s eyes only" if card.note.audience == Audience.WRITER else ""
    gone = "" if card.stands.at else ", its lines are gone"
    yield f"{card.kind_label} from {card.whose_words}{about}{only}{gone}. {state_in_words(card)}."
    if not card.stands.at and card.subject == Subject.LINES:
        yield f"It stood on: {card.note.quoted}"
    elif lines_by_now(card):
        yield f"When it was left, its lines read: {card.note.quoted}"
    if card.note.body:
        yield card.note.body
    if words := offered(card):
        yield f"Offers: {words}"
    if card.decision and card.decision.reason:
        yield f"{card.decision.decided_by.name} decided: {card.decision.reason}"
    for each in replies_that_stand(card):
        yield f"{each.reply.author_name} replied: {each.reply.body}"
