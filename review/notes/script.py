"""The script screen: a draft's laid-out pages with the notes beside their lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db.models import Q
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET

from review.access import Deed, members_who_may
from review.drafts.models import Draft
from review.notes.cards import note_cards
from review.notes.lines import source_lines
from review.notes.models import Note

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member


@require_GET
@members_who_may(Deed.READ)
def script_current(request: HttpRequest, member: Member) -> HttpResponse:
    """The current draft's script, or a page that says there is none yet."""
    draft = member.production.current_draft
    if draft is None:
        return render(request, "notes/no_draft.html", {"member": member})
    return redirect("script", member.production.public_id, draft.number)


@require_GET
@members_who_may(Deed.READ)
def script(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    """One draft's pages, and the notes that this member may read on it."""
    draft = get_object_or_404(Draft, production_id=member.production_id, number=number)
    notes = Note.objects.visible_to(member).standing().filter(Q(draft=draft) | Q(placements__draft=draft))
    cards = note_cards(member, notes, draft)
    context = {"member": member, "draft": draft, "lines": source_lines(draft.text), "cards": cards}
    return render(request, "notes/script.html", context)
