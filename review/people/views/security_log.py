"""The Security log screen: for writers, what happened at the doors of their production."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import render
from django.views.decorators.http import require_safe

from review.access import Deed
from review.people.guard import members_who_may
from review.people.security_log import read_security_log

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member

MOST_DIGITS = 18  # of a key, so that any database takes it


@require_safe
@members_who_may(Deed.WATCH)
def security_log(request: HttpRequest, member: Member) -> HttpResponse:
    asked = request.GET.get("before", "")
    before = int(asked) if asked.isascii() and asked.isdigit() and len(asked) <= MOST_DIGITS else None
    page = read_security_log(member.production, before)
    return render(request, "people/security_log.html", {"member": member, "page": page, "before": before})
