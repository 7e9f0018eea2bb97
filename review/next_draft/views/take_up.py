"""Going on with a working draft that was set aside."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from review.access import Deed
from review.next_draft.addressed import working_to_set_aside
from review.people.guard import members_who_may
from review.requests import CONFLICT
from review.rewriting import acts
from review.rewriting.models import WorkingDraft, WorkingIsClosed

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.REWRITE)
def working_take_up(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Go on with a working draft that was set aside, after asking where another is open."""
    aside = WorkingDraft.objects.select_related("base").filter(production=member.production, public_id=public_id)
    working = get_object_or_404(aside)
    status = 200
    if request.method == "POST":
        try:
            acts.take_up_working(member, working, set_aside=working_to_set_aside(request, member))
            return redirect("working", member.production.public_id)
        except WorkingIsClosed:
            messages.error(request, "That working draft has been put up, so it is a draft of its own now.")
            return redirect("working", member.production.public_id)
        except acts.AnotherIsOpen:
            status = CONFLICT
    context = {
        "member": member,
        "aside": working,
        "open": member.production.working_drafts.open_now(),
        "status": status,
    }
    return render(request, "next_draft/take_up.html", context, status=status)
