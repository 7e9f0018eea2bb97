"""What is told of a member's own notes: a reply, a decision, and what became of many; always in their own words.

What a letter tells was said by the member, by a writer, or by somebody whose words stand open to the member when it is
sent: asked for by `visible_to`, as for a screen. No line of the script goes into a letter.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.urls import reverse

from review.cards.came_to import what_they_came_to
from review.decisions.in_force import decisions_in_force, latest_of
from review.decisions.models import Decision, Outcome
from review.letters.tidings import Tidings, quoted, the_note
from review.mail.acts import was_sent
from review.mail.models import Occasion
from review.notes.markdown import without_markdown
from review.notes.models import Note, Reply

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from review.cards.came_to import CameTo
    from review.people.models import Member

MOST_TOLD = 30  # notes of one letter; its page has the others


def replied(member: Member, about: str) -> Tidings | None:
    """That somebody replied under a note that the member left or has replied to."""
    replies = Reply.objects.visible_to(member).filter(public_id=about, withdrawn_at=None, note__withdrawn_at=None)
    reply = replies.select_related("author__person", "note__author__person").first()
    if reply is None:
        return None
    note = reply.note
    whose = "your note" if note.is_of(member) else f"a note by {note.author_name}"
    says = f"{reply.author_name} replied to {whose}:"
    told = (says, quoted(reply.body), the_note(_in_own_words(note)))
    return Tidings(f"{reply.author_name} replied to {whose}", told, _path(note))


def decided(member: Member, about: str) -> Tidings | None:
    """That a note of theirs was decided, as long as that is what stands."""
    found = Decision.objects.filter(public_id=about, note__withdrawn_at=None)
    decision = found.select_related("note", "undoes", "decided_by__person").first()
    if decision is None or latest_of(decision.note.decisions.all()) != decision:
        return None
    if decision.undoes and not was_sent(member.pk, Occasion.DECIDED, decision.undoes.public_id):
        return None  # of what was taken back at once they have not heard
    note = decision.note
    if not Note.objects.visible_to(member).of(member).filter(pk=note.pk).exists():
        return None
    came_to = what_they_came_to(member, [decision])[note.pk]
    word = (came_to.overtaken or decision).word.lower()
    became = "was opened again" if decision.outcome == Outcome.REOPENED else f"is {word}"
    says = f"Your note {became}, by {decision.decided_by.name}" + (":" if decision.reason.strip() else ".")
    told = (says, quoted(decision.reason), the_note(_in_own_words(note)))
    return Tidings(f"Your note {became}", told, _path(note))


def _in_own_words(note: Note) -> str:
    return note.body.strip() or ("a wording" if note.wording is not None else note.get_kind_display())


def what_became(member: Member, notes: Iterable[Note]) -> Iterator[str]:
    """What became of a member's own notes, a paragraph each, the answered ones first."""
    mine = list(notes)
    if not mine:
        return
    standing = decisions_in_force(note__in=mine).select_related("note", "written_in__draft")
    came_to = what_they_came_to(member, standing.defer("written_in__draft__text"))
    answered = [note for note in mine if note.pk in came_to]
    if answered:
        yield "What became of your notes:"
    for note in answered[:MOST_TOLD]:
        yield f"{quoted(_in_own_words(note))}\n{_became(came_to[note.pk])}"
    if len(answered) > MOST_TOLD:
        yield f"And of {len(answered) - MOST_TOLD} more, on the page."
    if waiting := len(mine) - len(answered):
        yield f"{_counted(waiting)} not decided yet."


def _became(came_to: CameTo) -> str:
    reason = without_markdown(came_to.decision.reason)
    return f"{came_to.word}: {reason}" if reason else f"{came_to.word}."


def _counted(waiting: int) -> str:
    return "One of your notes is" if waiting == 1 else f"{waiting} of your notes are"


def _path(note: Note) -> str:
    return reverse("note", args=[note.production.public_id, note.public_id])
