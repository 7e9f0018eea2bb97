"""Notes as a PDF to read, scene by scene, with the name of whoever takes them across it."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from django.conf import settings
from django.utils import timezone
from django.utils.formats import date_format

from review.drafts.on_paper import name_across
from review.drafts.scripts import laid_out
from review.exchange.taken_notes import lines_as_left, lines_by_now, replies_that_stand, state_in_words
from review.notes.markdown import typed_out
from review.notes.models import SAFETY_SENSE, Audience, NoteKind, Subject
from screenplay.printing import PrintedNote, PrintedNotes, SheetHead, print_notes

if TYPE_CHECKING:
    from datetime import datetime

    from review.cards.note_card import NoteCard
    from review.exchange.taken_notes import TakenNotes
    from review.people.models import Member
    from screenplay import LaidOut

BEFORE, GONE = "Before the first scene", "What is gone"
NOTHING = "There are none."


def as_pdf(member: Member, taken: TakenNotes) -> bytes:
    """The notes scene by scene, in script order, with their lines as they were printed when each was left, and as they
    are by now where they read otherwise, what was said under them and the decision that stands; those whose lines are
    gone come last."""
    draft, pages = taken.draft, laid_out(taken.draft)
    today = timezone.localdate()
    head = SheetHead(
        title=f"{draft.production.name}: notes on {draft}",
        short=f"Notes on draft {draft.number} · {draft.production.name}",
        date=today,
        opening=(draft.production.name, f"Notes on {draft}", f"As they stood on {date_format(today, 'j F Y')}"),
        senses=(
            taken.which,
            taken.sense,
            SAFETY_SENSE if any(card.kind == NoteKind.SAFETY for card in taken.cards) else "",
        ),
        nothing=NOTHING,
    )
    groups = [
        PrintedNotes(name, tuple(_printed(card) for card in cards))
        for name, cards in groupby(taken.cards, key=lambda card: _group(card, pages))
    ]
    return print_notes(
        head, groups, paper=draft.page_setting.paper, language=settings.LANGUAGE_CODE, name=name_across(member)
    )


def _group(card: NoteCard, pages: LaidOut) -> str:
    """The scene that a note stands in, or what else it is on."""
    if not card.stands.at:
        return GONE
    ordinal = pages.script.scene_of[card.stands.at.first_line - 1]
    if not ordinal:
        return BEFORE
    scene = pages.scenes[ordinal - 1]
    return f"{scene.number or ordinal} {scene.heading}"


def _printed(card: NoteCard) -> PrintedNote:
    note, now = card.note, lines_by_now(card)
    return PrintedNote(
        title=f"{card.title}{_about(card)}. {_state(card)}.",
        place=_place(card),
        lines=tuple(lines_as_left(card).split("\n")),
        text=typed_out(note.body),
        wording=note.wording,
        read_now=_read_now(card, now),
        lines_now=() if card.reads_as_offered else tuple(now.split("\n")),
        decision=_decision(card),
        replies=tuple(f"{each.reply.author_name}: {typed_out(each.reply.body)}" for each in replies_that_stand(card)),
    )


def _read_now(card: NoteCard, now: str) -> str:
    """What is said over the lines as they read in the draft; empty where they read as they did."""
    if not now:
        return ""
    return f"Draft {card.draft.number} reads {'as offered.' if card.reads_as_offered else 'now:'}"


def _about(card: NoteCard) -> str:
    if card.subject == Subject.LINES:
        return ""
    name = card.stands.name or card.since.name
    return ", on the whole scene" if card.subject == Subject.SCENE and card.stands.at else f", on {name}"


def _state(card: NoteCard) -> str:
    answer = card.decisions.answer
    word = state_in_words(card)
    return f"{word}, draft {answer.draft.number}" if answer else word


def _place(card: NoteCard) -> str:
    """The page, when it was left, what became of its lines since, and whose eyes it is for."""
    note = card.note
    left = _day(note.said_at or note.created_at)
    if card.is_from_earlier:
        left = f"left on draft {note.draft.number}, {left}"
    since = f"{card.since.label.lower()} since" if card.since.label else ""
    only = "for the writer’s eyes only" if note.audience == Audience.WRITER else ""
    return " · ".join(filter(None, (card.stands.page, left, since, only)))


def _decision(card: NoteCard) -> str:
    """Who decided, when, and why."""
    decision = card.decision
    if decision is None:
        return ""
    reason = f": {typed_out(decision.reason)}" if decision.reason else "."
    return f"{decision.decided_by.name} decided on {_day(decision.created_at)}{reason}"


def _day(moment: datetime) -> str:
    return date_format(timezone.localtime(moment), "j M Y")
