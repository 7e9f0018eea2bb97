"""The drafts of a production, latest first."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from django.shortcuts import render
from django.views.decorators.http import require_safe

from review.access import Deed, may
from review.drafts.scripts import lengths
from review.people.guard import members_who_may

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member


@require_safe
@members_who_may(Deed.READ)
def drafts(request: HttpRequest, member: Member) -> HttpResponse:
    """Those that stand; a writer finds the withdrawn ones among them, with the reason."""
    may_publish = may(member, Deed.PUBLISH)
    found = member.production.drafts.all() if may_publish else member.production.drafts.standing()
    people = found.select_related("uploaded_by__person", "withdrawn_by__person")
    latest_first = list(people.defer("text").order_by("-number"))
    length_of = lengths(latest_first)
    standing = [draft.number for draft in latest_first if draft.withdrawn_at is None]
    before = dict(pairwise(standing))
    rows = [
        {
            "draft": draft,
            "length": length_of[draft.pk],
            "previous": before.get(draft.number),
            "is_current": draft.number in standing[:1],
        }
        for draft in latest_first
    ]
    context = {
        "member": member,
        "rows": rows,
        "may_publish": may_publish,
        "may_rewrite": may(member, Deed.REWRITE),
    }
    return render(request, "drafts/drafts.html", context)
