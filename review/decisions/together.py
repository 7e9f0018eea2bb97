"""Deciding several notes in one go, with one reason: each gets a decision of its own, or none of them any."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

from django.db import transaction

from review.access import Deed
from review.decisions.acts import DecidedMeanwhile, NeedsReason, WithdrawnMeanwhile, decide_locked, refuse_unread
from review.notes.acts import ChangedMeanwhile
from review.productions.models import lock_for
from review.rewriting.wordings import CannotTake, WrittenOver

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.decisions.acts import Deciding, Shown
    from review.decisions.models import Decision
    from review.notes.models import Note
    from review.people.models import Member

MOST_TOGETHER = 60
STANDS_IN_THE_WAY = (ChangedMeanwhile, DecidedMeanwhile, WithdrawnMeanwhile, NeedsReason, CannotTake, WrittenOver)


class NotTogether(Exception):
    """One of the notes could not be decided so, `note`, for which `why` was raised; none of them is."""

    def __init__(self, note: Note, why: Exception) -> None:
        super().__init__(f"{note} stands in the way: {why}")
        self.note, self.why = note, why


@transaction.atomic
def decide_together(by: Member, shown: Sequence[Shown], choice: Deciding, form_id: uuid.UUID) -> list[Decision]:
    """Decide these notes alike, each with a decision of its own; the same form sent again finds those it made.

    Raises NotTogether where one of them cannot be decided so, and nothing is stored then; PermissionDenied where one is
    of another production or not for the decider to read.
    """
    lock_for(by, Deed.DECIDE)
    refuse_unread(by, *(each.note for each in shown))
    decisions: list[Decision] = []
    for each in sorted(shown, key=lambda one: one.note.pk):
        try:
            of_note = uuid.uuid5(form_id, each.note.public_id)
            decisions.append(decide_locked(by, each, choice, of_note, together=form_id))
        except STANDS_IN_THE_WAY as why:
            raise NotTogether(each.note, why) from why
    return decisions
