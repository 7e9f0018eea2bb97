"""The breakdown of a draft: its scenes with what each needs, to sort, to narrow, to print and to take away."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_safe

from review.access import Deed, may
from review.comma_separated import CSV
from review.downloads import download
from review.drafts.at_address import draft_or_404
from review.drafts.list_language import language_sense
from review.people.guard import members_who_may
from review.scenes.acts import take_breakdown
from review.scenes.breakdown import ORDERS, read_breakdown, scene_rows
from review.scenes.lengths_drawn import draw_lengths
from screenplay.breakdown import TIME_RULE

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member

TYPES = {
    "csv": CSV,
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}


@require_safe
@members_who_may(Deed.READ)
def scenes_current(request: HttpRequest, member: Member) -> HttpResponse:
    """Leads to the scenes of the current draft."""
    current = member.production.drafts.current()
    if current:
        return redirect("scenes", member.production.public_id, current.number)
    return render(request, "scenes/scenes_none.html", {"member": member, "may_publish": may(member, Deed.PUBLISH)})


@require_safe
@members_who_may(Deed.READ)
def scenes(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    draft = draft_or_404(member, number)
    rows = scene_rows(member, draft)
    context = {
        "member": member,
        "draft": draft,
        "drafts": list(member.production.drafts.standing().defer("text")),
        "breakdown": read_breakdown(rows, request.GET.dict()),
        "orders": ORDERS,
        "lengths": draw_lengths(rows, reverse("script", args=[member.production.public_id, number])),
        "asked": request.GET.urlencode(),
        "time_rule": TIME_RULE,
        "language_sense": language_sense(draft),
        "may_rewrite": may(member, Deed.REWRITE),
    }
    return render(request, "scenes/scenes.html", context)


@require_GET
@members_who_may(Deed.READ)
def scenes_file(request: HttpRequest, member: Member, number: int, ending: str) -> HttpResponse:
    """The rows that the same address without an ending shows, as a file."""
    if ending not in TYPES:
        raise Http404("No such file")
    draft = draft_or_404(member, number)
    data = take_breakdown(member, draft, request.GET.dict(), ending)
    return download(data, draft.file_name(ending, "breakdown"), TYPES[ending])
