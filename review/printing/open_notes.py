"""The notes on a draft that nobody has decided, as they are listed after its pages."""

from __future__ import annotations

from html import unescape
from typing import TYPE_CHECKING

from django.utils.html import strip_tags

from review.cards.note_cards import note_cards
from review.decisions.in_force import undecided
from review.drafts.printed_lines import UNPRINTED, printed_lines
from review.drafts.scripts import laid_out, read_script
from review.notes.models import Fate, Note, Subject, sense_of_audiences
from screenplay.fountain import runs
from screenplay.printing import ListedNote, ListedNotes

if TYPE_CHECKING:
    from review.cards.note_card import NoteCard
    from review.drafts.models import Draft
    from review.people.models import Member
    from screenplay import LaidOut, Paper, Screenplay, Span

GONE = {
    Subject.LINES: "Its lines are gone",
    Subject.SCENE: "Its scene is gone",
    Subject.CHARACTER: "Nobody of the name speaks",
}


def open_notes(member: Member, draft: Draft, paper: Paper, *, for_writers_too: bool) -> ListedNotes:
    """The notes on this draft that the member may read and nobody has decided, in script order; those whose lines are
    gone come last. Those for the writer's eyes only are left out, for a print goes from hand to hand, unless
    `for_writers_too` takes them in; the list says which."""
    readable = Note.objects.visible_to(member).not_withdrawn()
    waiting = undecided(readable if for_writers_too else readable.for_everyone())
    cards = [card for card in note_cards(member, waiting, draft) if card.stands.span or card.since.fate == Fate.GONE]
    homeless = [card for card in cards if not card.stands.span]
    placed = sorted(
        (card.stands.at.first_line, card.stands.at.first_char, card.note.pk, card) for card in cards if card.stands.at
    )
    pages = laid_out(draft, paper)
    return ListedNotes(
        tuple(_listed(card, pages) for card in (*(card for *_, card in placed), *homeless)),
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
        quoted=_printed_words(stood_in, card.stands.span or card.note.span) if card.subject == Subject.LINES else "",
        text=unescape(strip_tags(card.body_html)),
        by=f"{card.author.name}, {card.department}",
        wording=card.note.wording,
    )


def _printed_words(script: Screenplay, span: Span) -> str:
    """What of a span reaches the page, without the marks of styles: lines that do not print are left out, and so are
    notes inside the script."""
    wanted = range(span.first_line, span.last_line + 1)
    printed = {line.line: line for element in script.elements for line in printed_lines(element) if line.line in wanted}
    words = []
    for line in (printed[number] for number in sorted(printed) if printed[number].kind not in UNPRINTED):
        start = span.first_char if line.line == span.first_line else 0
        end = span.last_char if line.line == span.last_line else len(script.source[line.line - 1])
        words.append("".join(run.text[max(start - run.start, 0) : max(end - run.start, 0)] for run in runs(line)))
    return "\n".join(words)


def _where(pages: LaidOut, line: int) -> str:
    """The page and the scene of a source line, where it has them."""
    label = pages.layout.label_at(line)
    page = f"page {label}" if label else ""
    ordinal = pages.script.scene_of[line - 1]
    scene = f"scene {pages.scenes[ordinal - 1].number or ordinal}" if ordinal else ""
    found = ", ".join(filter(None, (page, scene))) or f"line {line}"
    return found[0].upper() + found[1:]
