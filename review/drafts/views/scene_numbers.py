"""The screen on which a production's scene numbers are locked and unlocked: what each would do, and the doing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from review.access import Deed
from review.drafts.locking import lock_or_unlock
from review.drafts.numbering import (
    PagesAreLocked,
    lock_numbers,
    numbered_scenes,
    unlock_numbers,
    unlocked_numbers,
)
from review.people.guard import members_who_may

if TYPE_CHECKING:
    from collections.abc import Mapping

    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member

REFUSALS: Mapping[type[Exception], str] = {
    PagesAreLocked: "The pages are locked too: unlock them first. Nothing has changed."
}


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.SET_UP)
def scene_numbers(request: HttpRequest, member: Member) -> HttpResponse:
    if request.method != "POST":
        return _show(request, member)
    refused = lock_or_unlock(request, member, "scene numbers", lock_numbers, unlock_numbers, REFUSALS)
    return _show(request, member, *refused) if refused else redirect("scene-numbers", member.production.public_id)


def _show(request: HttpRequest, member: Member, sentence: str = "", status: int = 200) -> HttpResponse:
    draft = member.production.drafts.current()
    scenes = numbered_scenes(draft) if draft else ()
    context = {
        "member": member,
        "draft": draft,
        "sentence": sentence,
        "is_locked": member.production.scene_numbers_locked_at is not None,
        "has_locked_pages": member.production.pages_locked_at is not None,
        "was_numbered": draft is not None and draft.scene_numbers is not None,
        "scenes": scenes,
        "standing": sum(scene.ordinal is not None for scene in scenes),
        "omitted": sum(scene.ordinal is None for scene in scenes),
        "renumbered": unlocked_numbers(draft) if draft else [],
    }
    return render(request, "drafts/scene_numbers.html", context, status=status)
