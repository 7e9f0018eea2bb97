"""What goes with a draft that is withdrawn, and comes back with it: what its writer is told before and after."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.notes.models import Note
from review.rewriting.wording_models import WrittenIn

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.rewriting.models import WorkingDraft


@dataclass(frozen=True, slots=True)
class GoesWith:
    """The notes left on a draft, of which none that its author took back; how many notes it answers; the open working
    draft, if it was begun from this one; and the draft that is current without it, None where there is no other."""

    notes: tuple[Note, ...]
    answers: int
    working: WorkingDraft | None
    current_without: Draft | None


def goes_with(draft: Draft) -> GoesWith:
    """What would go with a draft, or went with it; for a writer, who may read every note."""
    notes = Note.objects.filter(draft=draft, withdrawn_at=None).select_related("author__person")
    working = draft.production.working_drafts.open_now()
    others = draft.production.drafts.standing().exclude(pk=draft.pk)
    return GoesWith(
        notes=tuple(notes),
        answers=WrittenIn.objects.filter(draft=draft).count(),
        working=working if working and working.base_id == draft.pk else None,
        current_without=others.current(),
    )
