"""The days of the story: as they are proposed, and as the writer sets them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from review.access import Deed
from review.drafts.at_address import draft_or_404
from review.people.guard import members_who_may
from review.requests import CONFLICT, INVALID
from review.scenes.acts import DaysSetMeanwhile, set_story_days
from review.scenes.breakdown import days_of, needs_of, scene_rows
from review.scenes.forms import DaysForm
from review.scenes.said_of_scenes import set_days

if TYPE_CHECKING:
    from review.people.models import Member
    from review.requests import Request


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.REWRITE)
def story_days(request: Request, member: Member, number: int) -> HttpResponse:
    """The form, and what it sends. Of two people who set one scene, the later is shown what the other set."""
    draft = draft_or_404(member, number)
    rows = scene_rows(member, draft)
    form = DaysForm(request.POST if request.method == "POST" else None, rows=rows, set_days=set_days(draft))
    status = INVALID if form.is_bound else 200
    if form.is_bound and form.is_valid():
        try:
            changed = set_story_days(member, draft, form.days, form.days_seen)
        except DaysSetMeanwhile as meanwhile:
            form.say_set_meanwhile(meanwhile.standing, meanwhile.scenes)
            status = CONFLICT
        else:
            messages.success(request, "The days stand." if changed else "Nothing was different.")
            return redirect("scenes-days", member.production.public_id, number)
    context = {"member": member, "draft": draft, "form": form}
    return render(request, "scenes/story_days.html", context, status=status)


@require_safe
@members_who_may(Deed.READ)
def story_days_told(request: Request, member: Member, number: int) -> HttpResponse:
    """The heading's line of each scene that has a day, and it, as `41=2`, apart by spaces: for the script's page."""
    draft = draft_or_404(member, number, with_text=False)
    days = zip(needs_of(draft), days_of(draft), strict=True)
    told = " ".join(f"{scene.first_line}={day}" for scene, day in days if day)
    return HttpResponse(told, content_type="text/plain; charset=utf-8")
