"""The home of a production: what there is to do next."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import render
from django.views.decorators.http import require_safe

from review.access import Deed, may
from review.home.own_part import own_part
from review.home.recent import recent_happenings
from review.home.waiting import waiting_for_reader, waiting_for_writer
from review.people.guard import members_who_may
from review.readers.models import Reading
from review.readings.progress import open_progress, reading_rows
from review.talks.models import Talk

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member

MOST_TALKS = 3  # to come


@require_safe
@members_who_may(Deed.READ)
def home(request: HttpRequest, member: Member) -> HttpResponse:
    latest = list(member.production.drafts.standing().order_by("-number")[:2])
    draft = latest[0] if latest else None
    context = {
        "member": member,
        "draft": draft,
        "has_earlier": len(latest) > 1,
        "may_publish": may(member, Deed.PUBLISH),
        "for_writer": waiting_for_writer(member, draft) if may(member, Deed.DECIDE) else None,
        "for_reader": waiting_for_reader(member, draft),
        "own_progress": [] if member.is_writer else open_progress(member),
        "open_readings": reading_rows(member, Reading.objects.known_to(member).open()) if member.is_writer else [],
        "part": own_part(member, draft, latest[1] if len(latest) > 1 else None) if draft else None,
        "coming_talks": _coming_talks(member),
        "happenings": recent_happenings(member),
    }
    return render(request, "home/home.html", context)


def _coming_talks(member: Member) -> list[Talk]:
    coming = Talk.objects.known_to(member).to_come().select_related("draft").defer("draft__text")
    return list(coming[:MOST_TALKS])
