"""The drafts of a production, latest first."""

from __future__ import annotations

from itertools import zip_longest
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
    latest_first = list(
        member.production.drafts.select_related("uploaded_by__person").defer("text").order_by("-number")
    )
    length_of = lengths(latest_first)
    rows = [
        {"draft": draft, "length": length_of[draft.pk], "previous": earlier.number if earlier else None}
        for draft, earlier in zip_longest(latest_first, latest_first[1:])
    ]
    context = {
        "member": member,
        "rows": rows,
        "may_publish": may(member, Deed.PUBLISH),
        "may_rewrite": may(member, Deed.REWRITE),
    }
    return render(request, "drafts/drafts.html", context)
