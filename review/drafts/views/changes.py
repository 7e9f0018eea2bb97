"""What changed between two drafts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET

from review.access import Deed, may, members_who_may
from review.drafts.scripts import compare_drafts

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member


@require_GET
@members_who_may(Deed.READ)
def changes(request: HttpRequest, member: Member) -> HttpResponse:
    """Leads to the two drafts asked for, else to the latest two; with one draft or none there is nothing to compare."""
    drafts = list(member.production.drafts.defer("text").order_by("-number"))
    numbers = {draft.number for draft in drafts}
    asked = [_number(request.GET.get(name, "")) for name in ("old", "new")]
    if all(number in numbers for number in asked):
        return redirect("changes-between", member.production.public_id, min(asked), max(asked))
    if len(drafts) > 1:
        return redirect("changes-between", member.production.public_id, drafts[1].number, drafts[0].number)
    context = {"member": member, "drafts": drafts, "may_publish": may(member, Deed.PUBLISH)}
    return render(request, "drafts/changes_none.html", context)


@require_GET
@members_who_may(Deed.READ)
def changes_between(request: HttpRequest, member: Member, old: int, new: int) -> HttpResponse:
    if old > new:
        return redirect("changes-between", member.production.public_id, new, old)
    drafts = member.production.drafts.defer("text")
    before, after = get_object_or_404(drafts, number=old), get_object_or_404(drafts, number=new)
    context = {
        "member": member,
        "drafts": list(drafts),
        "before": before,
        "after": after,
        "comparison": compare_drafts(before, after),
    }
    return render(request, "drafts/changes.html", context)


def _number(text: str) -> int:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else 0
