"""Why each scene of a draft is in the film, in the writer's words, for writers alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from review.access import Deed
from review.drafts.scripts import laid_out
from review.people.guard import members_who_may
from review.readers.models import Reading
from review.readings.followed_scenes import purposes_in
from review.readings.question_acts import write_purposes
from review.readings.question_models import MOST_PURPOSE

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request

INVALID = 422


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.ASK_FOR_READING)
def scene_purposes(request: Request, member: Member, number: int) -> HttpResponse:
    """The purposes, and what the form sends of them: a field for each scene, by its ordinal."""
    draft = get_object_or_404(member.production.drafts.standing().select_related("production"), number=number)
    scenes = laid_out(draft).scenes
    purposes = purposes_in(draft)
    too_long = 0
    if request.method == "POST":
        said = {scene.ordinal: request.POST.get(f"scene-{scene.ordinal}") for scene in scenes}
        given = {ordinal: text for ordinal, text in said.items() if text is not None}
        too_long = next((ordinal for ordinal, text in given.items() if len(text) > MOST_PURPOSE), 0)
        if not too_long:
            changed = write_purposes(member, draft, given)
            messages.success(request, "Kept, for writers alone." if changed else "Nothing has changed.")
            return redirect("scene-purposes", member.production.public_id, draft.number)
        purposes |= given
    context = {
        "member": member,
        "draft": draft,
        "rows": [(scene, purposes.get(scene.ordinal, "")) for scene in scenes],
        "too_long": too_long,
        "most": MOST_PURPOSE,
        "reading": Reading.objects.known_to(member).open().filter(draft=draft).first(),
    }
    return render(request, "readings/scene_purposes.html", context, status=INVALID if too_long else 200)
