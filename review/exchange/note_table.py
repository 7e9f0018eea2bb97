"""Notes as a table: a row for each, as comma-separated values."""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.comma_separated import comma_separated
from review.drafts.scripts import laid_out
from review.exchange.taken_notes import lines_as_left, lines_by_now, replies_that_stand, state_in_words
from review.notes.models import Subject

if TYPE_CHECKING:
    from datetime import datetime

    from review.cards.note_card import NoteCard
    from review.comma_separated import CellValue
    from review.exchange.taken_notes import TakenNotes
    from screenplay import LaidOut

HEADS = (
    "Note",
    "Left on draft",
    "Left at (UTC)",
    "Page",
    "Scene",
    "First line",
    "Last line",
    "Its lines since",
    "About",
    "Kind",
    "From",
    "Department",
    "Taken down by",
    "For",
    "The lines",
    "They read now",
    "What it says",
    "Offers",
    "State",
    "Reason",
    "Decided by",
    "Written in draft",
    "Replies",
)
NOTE, FOR = HEADS.index("Note"), HEADS.index("For")


def notes_as_csv(taken: TakenNotes) -> bytes:
    """The notes as a table. Its head says which they are, where they are not all, and whether those for the writer's
    eyes only are in it."""
    pages = laid_out(taken.draft)
    told = {NOTE: taken.which if taken.is_narrowed else "", FOR: taken.sense}
    heads = [f"{head} ({said.rstrip('.')})" if (said := told.get(at)) else head for at, head in enumerate(HEADS)]
    return comma_separated(heads, [cells_of(card, pages) for card in taken.cards])


def cells_of(card: NoteCard, pages: LaidOut) -> tuple[CellValue, ...]:
    """A note's cells, in the order of HEADS; its place is that on the draft of the pages."""
    note, span, decision = card.note, card.stands.span, card.decision
    return (
        note.public_id,
        note.draft.number,
        in_utc(note.said_at or note.created_at),
        (pages.layout.label_at(span.first_line) or "") if span else "",
        _scene(pages, span.first_line) if span else "",
        span.first_line if span else "",
        span.last_line if span else "",
        card.since.label,
        "" if card.subject == Subject.LINES else card.stands.name or card.since.name,
        card.kind_label,
        card.author_name,
        card.department,
        note.taken_down_by.name if note.taken_down_by else "",
        note.get_audience_display(),
        lines_as_left(card),
        lines_by_now(card),
        note.body,
        offered(card),
        state_in_words(card),
        decision.reason if decision else "",
        decision.decided_by.name if decision else "",
        card.decisions.answer.draft.number if card.decisions.answer else "",
        "\n\n".join(f"{each.reply.author_name}: {each.reply.body}" for each in replies_that_stand(card)),
    )


def offered(card: NoteCard) -> str:
    """The wording that a note proposes; in words where it proposes to cut its lines."""
    wording = card.note.wording
    return "" if wording is None else wording or "(These lines cut.)"


def in_utc(moment: datetime) -> str:
    """A moment as RFC 3339 has it, in UTC to the second."""
    return f"{moment:%Y-%m-%dT%H:%M:%SZ}"


def _scene(pages: LaidOut, line: int) -> str:
    """The number of the scene that a line is in; its place among the scenes where it has none."""
    ordinal = pages.script.scene_of[line - 1]
    return str(pages.scenes[ordinal - 1].number or ordinal) if ordinal else ""
