"""Setting by hand where a note stands in the current draft."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from review.access import Deed, members_who_may
from review.decisions import acts
from review.decisions.forms import PlaceForm
from review.notes.cards import card_of
from review.notes.models import Note

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member


@require_http_methods(["GET", "POST"])
@members_who_may(Deed.DECIDE)
def place(request: HttpRequest, member: Member, public_id: str) -> HttpResponse:
    """Show where a note stood and the current draft's lines, and set its place among them."""
    note = get_object_or_404(Note.objects.visible_to(member).select_related("draft"), public_id=public_id)
    draft = member.production.current_draft
    if draft is None or draft.number <= note.draft.number:
        raise Http404("A note stands where its author put it in its own draft")
    form = PlaceForm(draft, request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        acts.place_note(member, note, draft, form.cleaned_data["span"])
        messages.success(request, "The note's place is set.")
        return redirect("notes", member.production.public_id)
    context = {"member": member, "draft": draft, "card": card_of(member, note, draft), "form": form}
    return render(request, "decisions/place.html", context, status=422 if form.is_bound else 200)
