"""How each character talks, in figures."""

from __future__ import annotations

from typing import TYPE_CHECKING

import screenplay
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET

from review.access import Deed, may, members_who_may
from review.drafts.scripts import read_script

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member


@require_GET
@members_who_may(Deed.READ)
def voices_current(request: HttpRequest, member: Member) -> HttpResponse:
    """Leads to the voices of the current draft."""
    current = member.production.current_draft
    if current:
        return redirect("voices", member.production.public_id, current.number)
    return render(request, "drafts/voices_none.html", {"member": member, "may_publish": may(member, Deed.PUBLISH)})


@require_GET
@members_who_may(Deed.READ)
def voices(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    draft = get_object_or_404(member.production.drafts, number=number)
    context = {"member": member, "draft": draft, "voices": screenplay.voices(read_script(draft))}
    return render(request, "drafts/voices.html", context)
