"""What is told of a draft that was put up: that it is there, and what became of one's notes since the one before."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db.models import Exists, OuterRef, Q
from django.urls import reverse

from review.decisions.in_force import decisions_in_force
from review.drafts.models import Draft
from review.letters.of_notes import what_became
from review.letters.tidings import Tidings
from review.notes.models import Note

if TYPE_CHECKING:
    from review.notes.models import NoteQuerySet
    from review.people.models import Member


def published(member: Member, about: str) -> Tidings | None:
    """That a draft is up, as long as it stands."""
    drafts = Draft.objects.standing().filter(production=member.production_id, public_id=about)
    draft = drafts.select_related("uploaded_by__person").defer("text").first()
    if draft is None:
        return None
    before = (
        member.production.drafts.standing().filter(number__lt=draft.number).order_by("-number").defer("text").first()
    )
    says = f"{draft.uploaded_by.name} put up {draft}."
    became = what_became(member, _answered_since(member, before, draft)) if before else ()
    changed = reverse("change-sheet-mine", args=[member.production.public_id])
    page = reverse("script", args=[member.production.public_id, draft.number])
    return Tidings(f"{draft} is up", (says, *became), changed if before else page)


def _answered_since(member: Member, before: Draft, draft: Draft) -> NoteQuerySet:
    """Their notes that this draft answers, that were decided since the draft before, or that wait."""
    standing = decisions_in_force(note=OuterRef("pk"))
    new = standing.filter(Q(written_in__draft=draft) | Q(created_at__gte=before.created_at))
    mine = Note.objects.visible_to(member).of(member).not_withdrawn()
    return mine.filter(Exists(new) | ~Exists(standing))
