"""Which acts of the log a member may know of: nothing betrays a note that is kept from them, nor what came of it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.db.models import Exists, OuterRef, Q

from review.log import Act
from review.notes.models import Audience, Note, Reply
from review.papers.models import WorldPaper
from review.papers.note_models import PaperNote, PaperReply

if TYPE_CHECKING:
    from collections.abc import Iterable

    from django.db.models import QuerySet

    from review.log import ActQuerySet
    from review.people.models import Member

Verb = Act.Verb
# By what their `about` names.
OF_NOTES = (
    Verb.LEFT_NOTE,
    Verb.CHANGED_NOTE,
    Verb.CORRECTED_NOTE,
    Verb.WITHDREW_NOTE,
    Verb.PUT_NOTE_BACK,
    Verb.DECIDED,
    Verb.PLACED_NOTE,
    Verb.WROTE_IN,
    Verb.TOOK_WORDING,
    Verb.TOOK_OUT_WORDING,
)
OF_REPLIES = (Verb.REPLIED, Verb.WITHDREW_REPLY)
OF_PAPERS = (Verb.PUT_UP_PAPER, Verb.CHANGED_PAPER, Verb.WITHDREW_PAPER, Verb.PUT_PAPER_BACK)
OF_PAPER_NOTES = (
    Verb.LEFT_PAPER_NOTE,
    Verb.CHANGED_PAPER_NOTE,
    Verb.WITHDREW_PAPER_NOTE,
    Verb.PUT_PAPER_NOTE_BACK,
    Verb.DECIDED_ON_PAPER,
)
OF_PAPER_REPLIES = (Verb.REPLIED_ON_PAPER, Verb.WITHDREW_PAPER_REPLY)
# How far readers are, what they say scene by scene, and whom a writer asks: for writers alone.
FOR_WRITERS = (
    Verb.ADDED_READER,
    Verb.TOOK_OFF_READER,
    Verb.REMINDED_READERS,
    Verb.BEGAN_READING,
    Verb.MARKED_SCENE,
    Verb.TOOK_BACK_MARK,
    Verb.SHARED_TIME,
    Verb.FINISHED_READING,
    Verb.ANSWERED_QUESTION,
)


def acts_known_to(member: Member, verbs: Iterable[str], *, with_own: bool = True) -> ActQuerySet:
    """The acts of these sorts in the member's production that they may know of. What was written in by a draft that is
    withdrawn is not: it answers nothing.

    Not `with_own` are those on what a reader left for the writer's eyes only: so it can be told to others like them.
    """
    asked = set(verbs)
    notes, replies = Note.objects.visible_to(member).order_by(), Reply.objects.visible_to(member).order_by()
    if not with_own and not member.is_writer:
        notes, replies = notes.for_everyone(), replies.filter(note__audience=Audience.EVERYONE)
    kept_apart: list[tuple[Iterable[str], QuerySet[Any]]] = [
        (OF_NOTES, notes),
        (OF_REPLIES, replies),
        (OF_PAPERS, WorldPaper.objects.visible_to(member).order_by()),
        (OF_PAPER_NOTES, PaperNote.objects.visible_to(member).order_by()),
        (OF_PAPER_REPLIES, PaperReply.objects.visible_to(member).order_by()),
    ]
    if not member.is_writer:
        asked.difference_update(FOR_WRITERS)
    of_all = asked.difference(*(these for these, _ in kept_apart))
    known = Q(verb__in=sorted(of_all))
    for these, visible in kept_apart:
        if wanted := asked.intersection(these):
            known |= Q(Exists(visible.filter(public_id=OuterRef("about"))), verb__in=sorted(wanted))
    acts = Act.objects.filter(known, production_id=member.production_id)
    if Verb.WROTE_IN not in asked:
        return acts
    withdrawn = member.production.drafts.filter(withdrawn_at__isnull=False).values_list("number", flat=True)
    return acts.exclude(verb=Verb.WROTE_IN, details__draft__in=list(withdrawn))
