"""Making an older draft's text the working draft again."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from review.access import Deed
from review.drafts.at_address import draft_or_404
from review.next_draft.addressed import form_id_of, working_to_set_aside
from review.people.guard import members_who_may
from review.requests import CONFLICT
from review.rewriting import acts

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.REWRITE)
def draft_restore(request: Request, member: Member, number: int) -> HttpResponse:
    """Make an old draft's text the new working draft, after saying what becomes of the one that is open."""
    restored = draft_or_404(member, number, withdrawn_too=True)
    current = member.production.drafts.current()
    if current is None:
        raise Http404("No such draft")
    status = 200
    if request.method == "POST":
        aside = working_to_set_aside(request, member)
        try:
            acts.begin_working(member, current, form_id_of(request), restored=restored, set_aside=aside)
            messages.success(request, f"The working draft now reads as draft {restored.number} did.")
            return redirect("working", member.production.public_id)
        except acts.AnotherIsOpen:
            status = CONFLICT
    context = {
        "member": member,
        "restored": restored,
        "current": current,
        "number": member.production.drafts.next_number(),
        "open": member.production.working_drafts.open_now(),
        "status": status,
    }
    return render(request, "next_draft/restore.html", context, status=status)
