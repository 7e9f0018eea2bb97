"""The talks of a production: all of them for writers, for others those they are asked to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import render
from django.views.decorators.http import require_safe

from review.access import Deed, may
from review.people.guard import members_who_may
from review.talks.models import Talk

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request


@require_safe
@members_who_may(Deed.READ)
def talks(request: Request, member: Member) -> HttpResponse:
    known = Talk.objects.known_to(member).select_related("draft").defer("draft__text").distinct()
    context = {
        "member": member,
        "talks": known.prefetch_related("members__person"),
        "may_call": may(member, Deed.TALK),
        "draft": member.production.drafts.current(),
    }
    return render(request, "talks/talks.html", context)
