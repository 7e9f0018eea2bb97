"""What a member takes away of a draft as a PDF, with their name across it; each time is kept in the log."""

from __future__ import annotations

from html import unescape
from typing import TYPE_CHECKING

from django.utils.html import strip_tags

from review import log
from review.access import Deed, refuse_unless
from review.cards.note_cards import note_cards
from review.decisions.in_force import undecided
from review.drafts.on_paper import header_of, name_across, title_of
from review.drafts.printed_words import UNPRINTED, printed_lines
from review.drafts.scripts import laid_out, read_script
from review.notes.carrying import span_of
from review.notes.models import Fate, Note, Subject
from screenplay.fountain import runs
from screenplay.printing import ListedNote, sides, typeset
from screenplay.script import part_of

if TYPE_CHECKING:
    from review.cards.note_cards import NoteCard
    from review.drafts.models import Draft
    from review.people.models import Member
    from screenplay import LaidOut, Paper, Screenplay, Span

GONE = {
    Subject.LINES: "Its lines are gone",
    Subject.SCENE: "Its scene is gone",
    Subject.CHARACTER: "Nobody of the name speaks",
}


def print_draft(member: Member, draft: Draft, paper: Paper, *, scene_numbers: bool, with_notes: bool) -> bytes:
    """The draft as a PDF for this member, with the open notes they may read after it if wanted."""
    refuse_unless(member, Deed.READ)
    data = typeset(
        laid_out(draft, paper),
        header=header_of(draft),
        scene_numbers=scene_numbers,
        title=title_of(draft),
        language=draft.production.script_language,
        name=name_across(member),
        notes=open_notes(member, draft, paper) if with_notes else None,
    )
    told = {"number": draft.number, "paper": paper.name, "notes": with_notes}
    log.record(member.person, log.Act.Verb.PRINTED_DRAFT, draft.production, draft.public_id, **told)
    return data


def print_sides(member: Member, draft: Draft, character: str, paper: Paper, *, scene_numbers: bool) -> bytes:
    """A character's sides from the draft as a PDF for this member.

    Raises `screenplay.printing.typesetting.NotInScript` for a character who is in no scene of it.
    """
    refuse_unless(member, Deed.READ)
    pages = laid_out(draft, paper)
    data = sides(
        pages,
        character,
        header=header_of(draft),
        scene_numbers=scene_numbers,
        title=f"{title_of(draft)}, sides",
        language=draft.production.script_language,
        name=name_across(member),
    )
    told = {"number": draft.number, "paper": paper.name, "character": part_of(pages.script, character).name}
    log.record(member.person, log.Act.Verb.PRINTED_SIDES, draft.production, draft.public_id, **told)
    return data


def open_notes(member: Member, draft: Draft, paper: Paper) -> list[ListedNote]:
    """The notes on this draft that the member may read and nobody has decided, in script order; those whose lines are
    gone come last."""
    waiting = undecided(Note.objects.visible_to(member).not_withdrawn())
    cards = [card for card in note_cards(member, waiting, draft) if card.span or card.fate == Fate.GONE]
    homeless = [card for card in cards if not card.span]
    placed = sorted(
        (card.stands_on.first_line, card.stands_on.first_char, card.note.pk, card) for card in cards if card.stands_on
    )
    pages = laid_out(draft, paper)
    return [_listed(card, pages) for card in (*(card for *_, card in placed), *homeless)]


def _listed(card: NoteCard, pages: LaidOut) -> ListedNote:
    where = _where(pages, card.span.first_line) if card.span else GONE[Subject(card.subject)]
    if card.subject != Subject.LINES:
        where = f"On {card.about or card.about_then}, {where[0].lower()}{where[1:]}"
    only = ", for the writer’s eyes only" if card.is_hidden else ""
    stood_in = pages.script if card.span else read_script(card.note.draft)
    return ListedNote(
        where=f"{where}: {card.kind_label.lower()}{only}",
        quoted=_printed_words(stood_in, card.span or span_of(card.note)) if card.subject == Subject.LINES else "",
        text=unescape(strip_tags(card.body_html)),
        by=f"{card.author.name}, {card.department}",
        wording=card.wording,
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
    page_of = pages.layout.page_of
    page = f"page {page_of[line]}" if line in page_of else ""
    ordinal = pages.script.scene_of[line - 1]
    scene = f"scene {pages.scenes[ordinal - 1].number or ordinal}" if ordinal else ""
    found = ", ".join(filter(None, (page, scene))) or f"line {line}"
    return found[0].upper() + found[1:]
