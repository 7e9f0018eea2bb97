"""Opening a reading: who, until when, what to look for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from review.access import Deed
from review.notes.forms import kept_key
from review.people.acts import Refused
from review.people.guard import members_who_may
from review.readings import acts
from review.readings.forms import ReadingForm
from review.requests import INVALID, lead_on

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.requests import Request

OPENED_ALREADY = "You sent this already. This is the reading that it opened, as it stands by now; nothing was changed."


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.ASK_FOR_READING)
def reading_new(request: Request, member: Member) -> HttpResponse:
    """The form for a reading of the current draft, and what it sends."""
    draft = member.production.drafts.current()
    members = member.production.members.filter(removed_at=None).select_related("person")
    form = ReadingForm(members, request.POST if request.method == "POST" else None)
    if draft is None or not form.is_bound:
        return _show(request, member, draft, form, 200 if draft and not form.is_bound else INVALID if draft else 200)
    if not form.is_valid():
        return _show(request, member, draft, form, INVALID)
    try:
        reading = acts.open_reading(
            member, draft, form.chosen, form.asked, form.cleaned_data["form_id"], is_blind=form.is_blind
        )
    except Refused as refusal:
        form.add_error(None, str(refusal))
        return _show(request, member, draft, form, INVALID)
    if reading.came_again:
        messages.info(request, OPENED_ALREADY)
    else:
        messages.success(request, "The reading is open. Each of them finds it first thing when they come in.")
    return lead_on(request, reverse("reading-readers", args=[member.production.public_id, reading.public_id]))


def _show(request: Request, member: Member, draft: Draft | None, form: ReadingForm, status: int = 200) -> HttpResponse:
    context = {"member": member, "draft": draft, "form": form, "kept_key": kept_key(member, "reading", "new")}
    return render(request, "readings/reading_new.html", context, status=status)
