"""Taking a decision back: the note, and the working draft with it, are again as they were before."""

from __future__ import annotations

import uuid
from datetime import timedelta
from typing import TYPE_CHECKING

from django.db import transaction
from django.db.models import Exists, OuterRef
from django.utils import timezone

from review.access import Deed, refuse_elsewhere
from review.decisions.acts import DecidedMeanwhile, WithdrawnMeanwhile, record_decision, tell_author
from review.decisions.in_force import NOT_WRITTEN_IN, latest_of
from review.decisions.models import Decision, Outcome
from review.notes.models import Note
from review.productions.models import lock_for
from review.rewriting import wordings
from review.rewriting.wording_models import WrittenIn

if TYPE_CHECKING:
    from review.people.models import Member

OFFERED_FOR = timedelta(hours=12)


class IsWrittenIn(Exception):
    """A draft that was put up answers the note: what is published is not undone. The note can be decided again."""

    def __init__(self, decision: Decision) -> None:
        super().__init__("A draft that was put up answers this note.")
        self.decision = decision


@transaction.atomic
def undo(by: Member, decision: Decision, form_id: uuid.UUID) -> list[Decision]:
    """Take a decision back, with those that were made together with it; the same form sent again finds what it made.

    Each note gets a new decision that says again what stood before, or that it is open; the decision that is undone is
    kept under it. A wording that the decision took into the working draft comes out, and one that it took out goes in
    again; a working draft that was begun for it is set aside where nothing else was written in. Raises DecidedMeanwhile
    where a later decision stands on one of the notes, WithdrawnMeanwhile where one was taken back, or went with
    its draft, IsWrittenIn where a draft answers one, and what take_wording and take_out raise; nothing is stored then.
    """
    lock_for(by, Deed.DECIDE)
    refuse_elsewhere(by, decision.note)
    made = Decision.objects.filter(note__production=by.production)
    of_act = made.filter(together=decision.together) if decision.together else made.filter(pk=decision.pk)
    undone = list(of_act.order_by("note").select_related("note"))
    together = uuid.uuid5(form_id, "together") if len(undone) > 1 else None
    restored = [_undo(by, each, uuid.uuid5(form_id, each.public_id), together) for each in undone]
    wordings.leave_no_trace(by)
    return restored


def _undo(by: Member, decision: Decision, form_id: uuid.UUID, together: uuid.UUID | None) -> Decision:
    note = Note.objects.select_for_update(no_key=True, of=("self",)).select_related("draft").get(pk=decision.note_id)
    same_form = Decision.objects.filter(form_id=form_id, note=note, decided_by=by).first()
    if same_form is not None:
        return same_form
    if note.withdrawn_at is not None or note.draft.withdrawn_at is not None:
        raise WithdrawnMeanwhile
    all_of_it = list(note.decisions.select_related("decided_by__person", "written_in__draft"))
    latest = latest_of(all_of_it)
    if latest is None or latest.pk != decision.pk:
        raise DecidedMeanwhile(latest or decision)
    if latest.answered_in is not None:
        raise IsWrittenIn(latest)
    before = latest_of(all_of_it[:-1])
    restored = Decision.objects.create(
        form_id=form_id,
        note=note,
        ordinal=latest.ordinal + 1,
        outcome=before.outcome if before else Outcome.REOPENED,
        reason=before.reason if before else "",
        decided_by=by,
        together=together,
        undoes=latest,
    )
    record_decision(by, restored)
    if before is not None:
        # The draft that answered it answers it again.
        WrittenIn.objects.filter(decision=before).update(decision=restored)
    _restore_wording(by, latest, restored)
    tell_author(by, restored)
    return restored


def _restore_wording(by: Member, undone: Decision, restored: Decision) -> None:
    note = restored.note
    form_id = wordings.taking_form(restored)
    taken = note.taken_wordings.now_in().filter(decision=undone).first()
    if taken is not None:
        wordings.take_out(by, taken, form_id, restored)
    for closed in note.taken_wordings.of_open_draft().filter(undone_with=undone):
        if closed.left_in:
            wordings.own_again(by, closed)
        else:
            wordings.take_wording(by, note, restored, form_id)


def last_to_undo(by: Member) -> Decision | None:
    """The decision that this member made last, of those lately that stand and can be undone; one query."""
    later = Decision.objects.filter(note=OuterRef("note"), ordinal__gt=OuterRef("ordinal"))
    lately = Decision.objects.filter(NOT_WRITTEN_IN, ~Exists(later), decided_by=by, undoes=None)
    there = {"note__withdrawn_at": None, "note__draft__withdrawn_at": None}
    standing = lately.filter(created_at__gt=timezone.now() - OFFERED_FOR, **there)
    told = standing.select_related("note__author__person", "written_in__draft").defer("written_in__draft__text")
    return told.order_by("-pk").first()
