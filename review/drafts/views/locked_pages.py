"""The screen on which a production's pages are locked and unlocked: what each would do, and the doing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from review.access import Deed
from review.drafts.locking import lock_or_unlock
from review.drafts.paging import (
    LockedOtherwise,
    NumbersNotLocked,
    lock_pages,
    locked_and_free,
    unlock_pages,
)
from review.people.guard import members_who_may

if TYPE_CHECKING:
    from collections.abc import Mapping

    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member

REFUSALS: Mapping[type[Exception], str] = {
    NumbersNotLocked: "The scene numbers are locked first. Nothing has changed.",
    LockedOtherwise: "Nothing has changed: see below what stands in the way.",
}


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.SET_UP)
def locked_pages(request: HttpRequest, member: Member) -> HttpResponse:
    if request.method != "POST":
        return _show(request, member)
    refused = lock_or_unlock(request, member, "pages", lock_pages, unlock_pages, REFUSALS)
    return _show(request, member, *refused) if refused else redirect("locked-pages", member.production.public_id)


def _show(request: HttpRequest, member: Member, sentence: str = "", status: int = 200) -> HttpResponse:
    production = member.production
    draft = production.drafts.current()
    context = {
        "member": member,
        "draft": draft,
        "sentence": sentence,
        "is_locked": production.pages_locked_at is not None,
        "has_numbers": production.scene_numbers_locked_at is not None,
        "was_locked": draft is not None and draft.locked_pages is not None,
        "is_as_set_up": draft is None or draft.is_as_set_up,
        "told": locked_and_free(draft) if draft else None,
    }
    return render(request, "drafts/locked_pages.html", context, status=status)
