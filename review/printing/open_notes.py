"""The notes on a draft that nobody has decided, as they are listed after its pages."""

from __future__ import annotations

from html import unescape
from typing import TYPE_CHECKING

from django.utils.html import strip_tags

from review.cards.note_cards import note_cards
from review.cards.script_order import in_script_order
from review.decisions.in_force import undecided
from review.drafts.printed_lines import printed_words
from review.drafts.scripts import laid_out, read_script
from review.notes.models import Note, Subject, sense_of_audiences
from screenplay.printing import ListedNote, ListedNotes

if TYPE_CHECKING:
    from review.cards.note_card import NoteCard
    from review.drafts.models import Draft
    from review.people.models import Member
    from screenplay import LaidOut, PaperSize

GONE = {
    Subject.LINES: "Its lines are gone",
    Subject.SCENE: "Its scene is gone",
    Subject.CHARACTER: "Nobody of the name speaks",
}


def open_notes(member: Member, draft: Draft, paper: PaperSize, *, for_writers_too: bool) -> ListedNotes:
    """The notes on this draft that the member may read and nobody has decided, in script order; those whose lines are
    gone come last. Those for the writer's eyes only are left out, for a print goes from hand to hand, unless
    `for_writers_too` takes them in; the list says which."""
    readable = Note.objects.visible_to(member).not_withdrawn()
    waiting = undecided(readable if for_writers_too else readable.for_everyone())
    cards = in_script_order(note_cards(member, waiting, draft))
    pages = laid_out(draft, paper)
    return ListedNotes(
        tuple(_listed(card, pages) for card in cards),
        sense_of_audiences([card.note.audience for card in cards], for_writers_too=for_writers_too),
    )


def _listed(card: NoteCard, pages: LaidOut) -> ListedNote:
    where = _where(pages, card.stands.span.first_line) if card.stands.span else GONE[Subject(card.subject)]
    if card.subject != Subject.LINES:
        where = f"On {card.stands.name or card.since.name}, {where[0].lower()}{where[1:]}"
    only = ", for the writer’s eyes only" if card.is_hidden else ""
    stood_in = pages.script if card.stands.span else read_script(card.note.draft)
    return ListedNote(
        where=f"{where}: {card.kind_label.lower()}{only}",
        quoted=printed_words(stood_in, card.stands.span or card.note.span) if card.subject == Subject.LINES else "",
        text=unescape(strip_tags(card.body_html)),
        by=card.whose_words,
        wording=card.note.wording,
    )


def _where(pages: LaidOut, line: int) -> str:
    """The page and the scene of a source line, where it has them."""
    label = pages.layout.label_at(line)
    page = f"page {label}" if label else ""
    ordinal = pages.script.scene_of[line - 1]
    scene = f"scene {pages.scenes[ordinal - 1].number or ordinal}" if ordinal else ""
    found = ", ".join(filter(None, (page, scene))) or f"line {line}"
    return found[0].upper() + found[1:]
