"""Which cues are one character: those that look alike, what the writer said of them, and two to choose."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

import screenplay
from review.access import Deed
from review.characters.acts import UnknownCue, keep_cues_apart, merge_cues
from review.people.guard import members_who_may
from screenplay.names import alike_cues
from screenplay.script import characters_of

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member
    from review.requests import Request


@require_safe
@members_who_may(Deed.REWRITE)
def names(request: HttpRequest, member: Member) -> HttpResponse:
    draft = member.production.drafts.current()
    script = screenplay.parse(draft.text if draft else "")
    told = member.production.names
    context = {
        "member": member,
        "draft": draft,
        "alike": alike_cues(script, told),
        "merged": told.merged,
        "apart": [sorted(pair) for pair in told.apart],
        "cues": sorted(one.name for one in characters_of(script)),
    }
    return render(request, "voices/names.html", context)


@require_POST
@members_who_may(Deed.REWRITE)
def names_merge(request: Request, member: Member) -> HttpResponse:
    """Let two cues be one character."""
    cue, name = request.POST.get("cue", ""), request.POST.get("name", "")
    try:
        merge_cues(member, cue, name)
    except UnknownCue:
        messages.error(request, "Choose two different names: one cue, and whose it is.")
    else:
        messages.success(request, f"{cue} is {name} now, in every count and on every sheet.")
    return redirect("voice-names", member.production.public_id)


@require_POST
@members_who_may(Deed.REWRITE)
def names_apart(request: Request, member: Member) -> HttpResponse:
    """Let two cues be two characters."""
    cue, name = request.POST.get("cue", ""), request.POST.get("name", "")
    keep_cues_apart(member, cue, name)
    messages.success(request, f"{cue} and {name} are two characters.")
    return redirect("voice-names", member.production.public_id)
