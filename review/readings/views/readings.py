"""The readings of a production: all of them for writers and producers, for others those they read in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import render
from django.views.decorators.http import require_safe

from review.access import Deed, may
from review.people.guard import members_who_may
from review.readers.models import Reading
from review.readings.progress import reading_rows

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request


@require_safe
@members_who_may(Deed.READ)
def readings(request: Request, member: Member) -> HttpResponse:
    context = {
        "member": member,
        "rows": reading_rows(member, Reading.objects.followed_by(member)),
        "may_ask": may(member, Deed.ASK_FOR_READING),
        "may_follow": may(member, Deed.FOLLOW_READINGS),
        "draft": member.production.drafts.current(),
    }
    return render(request, "readings/readings.html", context)
