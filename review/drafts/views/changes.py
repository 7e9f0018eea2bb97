"""What changed between two drafts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.core.cache import cache
from django.http import Http404
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.views.decorators.http import require_safe

from review.access import Deed, may, members_who_may
from review.drafts.affected import affected_notes
from review.drafts.changes import changes_between as find_changes
from review.drafts.scripts import lengths, pages_of

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse
    from django.utils.safestring import SafeString

    from review.drafts.changes import Changes
    from review.drafts.models import Draft
    from review.people.models import Member

SIDE_BY_SIDE = "two"
LINES_KEPT_SECONDS = 60 * 60


@require_safe
@members_who_may(Deed.READ)
def changes(request: HttpRequest, member: Member) -> HttpResponse:
    """Leads to the two drafts asked for, else to the latest two; with one draft or none there is nothing to compare."""
    drafts = list(member.production.drafts.defer("text").order_by("-number"))
    numbers = {draft.number for draft in drafts}
    old, new = (_number(request.GET.get(name, "")) for name in ("old", "new"))
    if {old, new} <= numbers:
        return redirect("changes-between", member.production.public_id, min(old, new), max(old, new))
    if len(drafts) > 1:
        return redirect("changes-between", member.production.public_id, drafts[1].number, drafts[0].number)
    context = {"member": member, "only": drafts[0] if drafts else None, "may_publish": may(member, Deed.PUBLISH)}
    return render(request, "drafts/changes_none.html", context)


@require_safe
@members_who_may(Deed.READ)
def changes_between(request: HttpRequest, member: Member, old: int, new: int) -> HttpResponse:
    """The changes from the older of two drafts to the newer, whichever way round they were asked for."""
    if old > new:
        return redirect("changes-between", member.production.public_id, new, old)
    drafts = list(member.production.drafts.defer("text"))
    by_number = {draft.number: draft for draft in drafts}
    before, after = by_number.get(old), by_number.get(new)
    if before is None or after is None:
        raise Http404("No such draft")
    context = {"member": member, "drafts": drafts, "before": before, "after": after}
    if before == after:
        return render(request, "drafts/changes_same.html", context)
    found = find_changes(before, after, with_source=may(member, Deed.PUBLISH))
    length_of = lengths([before, after])
    context |= {
        "changes": found,
        "length_before": length_of[before.sha256],
        "length_after": length_of[after.sha256],
        "notes": affected_notes(member, before, after, found),
        "body": _lines(member, before, after, found, request.GET.get("view") == SIDE_BY_SIDE),
    }
    return render(request, "drafts/changes.html", context)


def _lines(member: Member, before: Draft, after: Draft, found: Changes, side_by_side: bool) -> SafeString:
    """The changed scenes and their lines as HTML: it follows from two texts that never change and how they are laid
    out, so it is kept by these.

    Those who put up drafts see the source, everyone else what prints.
    """
    drafts = f"{pages_of(before).key}:{pages_of(after).key}"
    key = f"changed-lines:{member.production.public_id}:{drafts}:{side_by_side}:{may(member, Deed.PUBLISH)}"
    context = {"member": member, "before": before, "after": after, "changes": found, "side_by_side": side_by_side}
    html: SafeString | None = cache.get(key)
    if html is None:
        html = render_to_string("drafts/changes_body.html", context)
        cache.set(key, html, LINES_KEPT_SECONDS)
    return html


def _number(text: str) -> int:
    """A draft's number out of an address, 0 for anything else."""
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else 0
