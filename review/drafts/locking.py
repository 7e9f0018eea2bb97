"""Locking and unlocking by a form, for scene numbers and pages alike: done, or refused with a sentence."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from django.contrib import messages

from review.drafts.forms import LOCK, LockForm
from review.drafts.numbering import NewDraftMeanwhile
from review.requests import CONFLICT, INVALID

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from django.http import HttpRequest

    from review.people.models import Member

    LockAct = Callable[[Member, int], bool]

MEANWHILE = "Another draft came up while you looked at this. Nothing has changed: here is how it stands now."


class LockRefused(NamedTuple):
    """Why nothing was done, and the status that says so."""

    sentence: str
    status: int


def lock_or_unlock(
    request: HttpRequest,
    member: Member,
    what: str,
    lock: LockAct,
    unlock: LockAct,
    refusals: Mapping[type[Exception], str],
) -> LockRefused | None:
    """Do what the form asks, and tell the member; or why it is refused. `what` are the scene numbers or the pages, and
    `refusals` the sentences for what else the acts may raise."""
    form = LockForm(request.POST)
    if not form.is_valid():
        return LockRefused("Say again what is to be done: nothing has changed.", INVALID)
    locking = form.cleaned_data["act"] == LOCK
    try:
        is_new = (lock if locking else unlock)(member, form.cleaned_data["draft"])
    except NewDraftMeanwhile:
        return LockRefused(MEANWHILE, CONFLICT)
    except tuple(refusals) as refusal:
        return LockRefused(refusals[type(refusal)], CONFLICT)
    word = "locked" if locking else "unlocked"
    messages.success(request, f"The {what} are {word}." if is_new else f"They were {word} already.")
    return None
