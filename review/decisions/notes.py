"""The notes screen: every note a member may read, in script order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import render
from django.views.decorators.http import require_GET

from review.access import Deed, members_who_may
from review.notes.cards import note_cards
from review.notes.models import Note

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member


@require_GET
@members_who_may(Deed.READ)
def notes(request: HttpRequest, member: Member) -> HttpResponse:
    """Every note that stands and that the member may read, on the current draft."""
    draft = member.production.current_draft
    if draft is None:
        return render(request, "notes/no_draft.html", {"member": member})
    cards = note_cards(member, Note.objects.visible_to(member).standing(), draft)
    return render(request, "decisions/notes.html", {"member": member, "draft": draft, "cards": cards})
