"""The screen on which a production's scene numbers are locked and unlocked: what each would do, and the doing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from review.access import Deed
from review.drafts.forms import LOCK, LockForm
from review.drafts.numbering import (
    NewDraftMeanwhile,
    PagesAreLocked,
    lock_numbers,
    numbered_scenes,
    unlock_numbers,
    unlocked_numbers,
)
from review.people.guard import members_who_may

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member

INVALID, CONFLICT = 422, 409


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.SET_UP)
def scene_numbers(request: HttpRequest, member: Member) -> HttpResponse:
    if request.method != "POST":
        return _show(request, member)
    form = LockForm(request.POST)
    if not form.is_valid():
        return _show(request, member, "Say again what is to be done: nothing has changed.", INVALID)
    locking = form.cleaned_data["act"] == LOCK
    try:
        is_new = (lock_numbers if locking else unlock_numbers)(member, form.cleaned_data["draft"])
    except NewDraftMeanwhile:
        sentence = "Another draft came up while you looked at this. Nothing has changed: here is how it stands now."
        return _show(request, member, sentence, CONFLICT)
    except PagesAreLocked:
        return _show(request, member, "The pages are locked too: unlock them first. Nothing has changed.", CONFLICT)
    word = "locked" if locking else "unlocked"
    messages.success(request, f"The scene numbers are {word}." if is_new else f"They were {word} already.")
    return redirect("scene-numbers", member.production.public_id)


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
