"""The screen of accepted notes that are still to be written in, in the order of the pages as they are now."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import render
from django.views.decorators.http import require_safe

from review.access import Deed, may
from review.next_draft.to_do import to_do
from review.people.guard import members_who_may
from review.rewriting.current_text import current_text

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request


@require_safe
@members_who_may(Deed.REWRITE)
def to_do_list(request: Request, member: Member) -> HttpResponse:
    """Each accepted note that no draft answers, with its lines as they stand, and the way to the scene they are in."""
    current = current_text(member.production)
    items = to_do(member, current) if current else []
    context = {
        "member": member,
        "pages": current,
        "items": items,
        "changed": sum(item.is_changed for item in items),
        "may_publish": may(member, Deed.PUBLISH),
    }
    return render(request, "next_draft/to_do.html", context)
