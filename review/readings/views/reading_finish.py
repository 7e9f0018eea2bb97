"""The end of a reading: finishing it, and saying who sees how long it took."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from review.access import Deed
from review.people.acts import Refused
from review.people.guard import members_who_may
from review.readings import reader_acts
from review.readings.finding import reader_or_404
from review.readings.progress import place_of

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.NOTE)
def reading_finish(request: Request, member: Member, public_id: str) -> HttpResponse:
    """What finishing does, and the doing."""
    place = place_of(reader_or_404(member, public_id))
    if request.method != "POST":
        context = {"member": member, "reading": place.reading, "place": place, "draft": place.reading.draft}
        return render(request, "readings/reading_finish.html", context)
    try:
        is_new = reader_acts.finish_reading(member, place.reading)
    except Refused as refusal:
        messages.error(request, str(refusal))
    else:
        if is_new:
            messages.success(request, "Thank you: you have finished. What the others said is open to you now.")
    return redirect("reading", member.production.public_id, place.reading.public_id)


@require_POST
@members_who_may(Deed.NOTE)
def reading_share_time(request: Request, member: Member, public_id: str) -> HttpResponse:
    reader = reader_or_404(member, public_id)
    shares = request.POST.get("shares") == "yes"
    reader_acts.share_time(member, reader.reading, shares=shares)
    told = "The writer sees how long each scene took you." if shares else "Nobody sees how long it took you."
    messages.success(request, told)
    return redirect("reading", member.production.public_id, reader.reading.public_id)
