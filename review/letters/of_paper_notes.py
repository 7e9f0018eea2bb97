"""What is told of a member's notes on world papers: a reply, and a decision; by the rules of those on the script."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.urls import reverse

from review.letters.tidings import Tidings, quoted, the_note
from review.papers.note_models import PaperDecision, PaperNote, PaperReply

if TYPE_CHECKING:
    from review.people.models import Member


def replied(member: Member, about: str) -> Tidings | None:
    """That somebody replied under a note on a paper that the member left or has replied to."""
    standing = PaperNote.objects.visible_to(member).standing().on_standing_papers().order_by()
    replies = PaperReply.objects.visible_to(member).filter(public_id=about, withdrawn_at=None, note__in=standing)
    reply = replies.select_related("author__person", "note__author__person", "note__version__paper__production").first()
    if reply is None:
        return None
    note = reply.note
    whose = "your note" if note.author_id == member.pk else f"a note by {note.author.name}"
    title = f"{reply.author.name} replied to {whose} on “{note.version.paper.title}”"
    return Tidings(
        title, (f"{title}:", quoted(reply.body), the_note(note.body or note.get_kind_display())), _path(note)
    )


def decided(member: Member, about: str) -> Tidings | None:
    """That a note of theirs on a paper was decided, as long as that is what stands."""
    mine = PaperNote.objects.visible_to(member).standing().on_standing_papers().filter(author=member).order_by()
    found = PaperDecision.objects.filter(public_id=about, note__in=mine)
    decision = found.select_related("decided_by__person", "note__version__paper__production").first()
    if decision is None or decision.note.decisions.filter(ordinal__gt=decision.ordinal).exists():
        return None
    note = decision.note
    became = f"Your note on “{note.version.paper.title}” is {decision.get_outcome_display().lower()}"
    says = f"{became}, by {decision.decided_by.name}" + (":" if decision.reason else ".")
    return Tidings(became, (says, quoted(decision.reason), the_note(note.body or note.get_kind_display())), _path(note))


def _path(note: PaperNote) -> str:
    paper = note.version.paper
    return f"{reverse('paper', args=[paper.production.public_id, paper.public_id])}#note-{note.public_id}"
