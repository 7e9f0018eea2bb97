"""A reading as its reader sees it: what was asked, the scenes, and where they left off."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from review.access import Deed
from review.people.guard import members_who_may
from review.readers.models import Reader
from review.readings.finding import reader_or_404, reading_or_404
from review.readings.progress import reader_progress

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request


@require_safe
@members_who_may(Deed.READ)
def reading(request: Request, member: Member, public_id: str) -> HttpResponse:
    """A writer is led on to who has read how far."""
    found = reading_or_404(member, public_id)
    if member.is_writer:
        return redirect("reading-readers", member.production.public_id, found.public_id)
    progress = reader_progress(reader_or_404(member, public_id))
    current = member.production.drafts.current()
    alone = Reader.objects.keeping_from(member)
    context = {
        "member": member,
        "reading": progress.reading,
        "progress": progress,
        "draft": found.draft,
        "may_hear": alone is None,
        "kept_by": alone.reading if alone and alone.reading_id != progress.reading.pk else None,
        "has_heard": Reader.objects.heard_others(member, progress.reading),
        "later": current if current and current.number > found.draft.number else None,
    }
    return render(request, "readings/reading.html", context)
