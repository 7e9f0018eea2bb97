"""The agenda of a talk as a PDF, with the name of whoever takes it across it; each time is kept in the log."""

from __future__ import annotations

from html import unescape
from typing import TYPE_CHECKING

from django.conf import settings
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.html import strip_tags
from django.utils.text import Truncator

from review import log
from review.access import Deed, refuse_elsewhere, refuse_unless
from review.drafts.on_paper import name_across
from review.drafts.printed_lines import printed_words
from review.drafts.scripts import read_script
from review.notes.models import SAFETY_SENSE, Audience, NoteKind, Subject, sense_of_audiences
from review.talks.agenda import SLOW_SENSE, agenda
from screenplay.printing import SheetHead, SheetLine, SheetScene, print_sheet

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from review.cards.note_card import NoteCard
    from review.drafts.models import Draft
    from review.people.models import Member
    from review.readings.learned import MarkCell
    from review.talks.agenda import AgendaScene
    from review.talks.missed_answers import MissedAnswer
    from review.talks.models import Talk

NOTHING = (
    "There is nothing to talk over: no note of theirs is open, no answer missed, and no scene lost any of them or was"
    " slow for them."
)
ELSEWHERE = "Of the draft, of characters, and of lines that are gone"
MOST_QUOTED = 40  # words


def print_agenda(member: Member, talk: Talk, *, for_writers_too: bool = False) -> bytes:
    """The agenda as a PDF. It goes from hand to hand, so that what was meant by a question is not on it, nor notes for
    the writer's eyes only, unless `for_writers_too` takes these in."""
    refuse_unless(member, Deed.TALK)
    refuse_elsewhere(member, talk)
    listed = agenda(member, talk)
    cards = [card for card in listed.every_card if for_writers_too or not card.is_hidden]
    shown = {card.note.pk for card in cards}
    scenes = [_scene(talk.draft, each, shown) for each in listed.scenes]
    rest = SheetScene(
        ELSEWHERE, "", (), (*_asked(talk.draft, listed.missed), *_notes(talk.draft, listed.cards, shown)), ()
    )
    kept = [each for each in (*scenes, rest) if each.reasons or each.lines]
    has_safety = any(card.kind == NoteKind.SAFETY for card in cards)
    audiences = [Audience(card.note.audience) for card in cards]
    begins = timezone.localtime(talk.starts_at)
    departments = sorted({each.get_department_display() for each in talk.members.all()})
    head = SheetHead(
        title=f"{talk.production.name}: talking over {talk.draft}",
        short=f"Draft {talk.draft.number} · {talk.production.name}",
        date=begins.date(),
        opening=(
            talk.production.name,
            f"Talking over {talk.draft}",
            ", ".join(filter(None, (date_format(begins, "l, j F Y, H:i"), talk.place))),
            f"With {', '.join(departments)}",
        ),
        senses=(
            sense_of_audiences(audiences, for_writers_too=for_writers_too),
            SAFETY_SENSE if has_safety else "",
            SLOW_SENSE,
        ),
        nothing=NOTHING,
    )
    data = print_sheet(
        head, kept, paper=talk.draft.page_setting.paper, language=settings.LANGUAGE_CODE, name=name_across(member)
    )
    details = {"number": talk.draft.number, "for_writers": for_writers_too}
    log.record(member.person, log.Act.Verb.TOOK_AGENDA, talk.production, talk.public_id, **details)
    return data


def _scene(draft: Draft, each: AgendaScene, shown: set[int]) -> SheetScene:
    return SheetScene(
        name=each.name,
        pages=f"page {each.scene.page_label}" if each.scene.page_label else "",
        reasons=tuple(f"{mark}: {', '.join(_who(draft, cell) for cell in cells)}." for mark, cells in each.not_held),
        lines=(*_asked(draft, each.missed), *_notes(draft, each.cards, shown)),
        notes=(),
    )


def _who(draft: Draft, cell: MarkCell) -> str:
    """Who said it, in which draft where that was an earlier one, and why if they said so."""
    said_in = cell.reader.reading.draft
    who = cell.reader.name if said_in == draft else f"{cell.reader.name} in draft {said_in.number}"
    return f"{who} ({cell.mark.why})" if cell.mark and cell.mark.why else who


def _asked(draft: Draft, missed: Iterable[MissedAnswer]) -> Iterator[SheetLine]:
    before = None
    for each in missed:
        if each.question != before:
            yield SheetLine("asked", each.question.text)
        before = each.question
        since = "" if each.given_on == draft.number else f" in draft {each.given_on}"
        yield SheetLine("said", f"{each.answer.reader.name}{since}: {each.answer.text}")


def _quoted(words: str) -> Iterator[SheetLine]:
    """Lines as they are printed, each by itself, to as many words as tell which they are."""
    left, lines = MOST_QUOTED, words.split("\n")
    for at, line in enumerate(lines):
        told = Truncator(line.strip()).words(left, truncate=" …")
        left -= len(line.split())
        is_cut = left <= 0 and at + 1 < len(lines) and not told.endswith("…")
        yield SheetLine("" if at else "lines", f"{told} …" if is_cut else told)
        if left <= 0:
            return


def _notes(draft: Draft, cards: Iterable[NoteCard], shown: set[int]) -> Iterator[SheetLine]:
    """Each note that is shown, with the lines that it is about as they are printed."""
    for card in cards:
        if card.note.pk not in shown:
            continue
        span = card.stands.span or card.note.span
        script = read_script(draft if card.stands.span else card.note.draft)
        if card.subject == Subject.LINES and (words := printed_words(script, span)):
            yield from _quoted(words)
        offered = f" Offers: {card.note.wording.strip() or 'to cut it'}" if card.note.wording is not None else ""
        words = unescape(strip_tags(card.body_html)).strip()
        yield SheetLine("note", f"{card.whose_words} ({card.kind_label.lower()}): {words}{offered}")
