"""Which working draft, and which scene of it, an address or a form names; and what is said where that is not open."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect

from review.rewriting.models import WorkingDraft, WorkingScene

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request

CLOSED = "This working draft has been put up or set aside meanwhile, so nothing was changed in it."
NONE_OPEN = "No working draft is open."
NOT_OF_THIS_ONE = "That scene is in a working draft that has been put up or set aside."


def open_or_404(member: Member) -> WorkingDraft:
    working = member.production.working_drafts.open_now()
    if working is None:
        raise Http404("No working draft is open")
    return working


def scene_or_404(member: Member, public_id: str) -> WorkingScene:
    """A scene of one of this production's working drafts."""
    found = WorkingScene.objects.filter(working__production_id=member.production_id, public_id=public_id)
    scene = found.select_related("working").first()
    if scene is None:
        raise Http404("No such scene")
    scene.working.production = member.production
    return scene


def working_to_set_aside(request: Request, member: Member) -> WorkingDraft | None:
    """The working draft that the page said would be set aside."""
    named = request.POST.get("set_aside", "")
    return WorkingDraft.objects.filter(production=member.production, public_id=named).first() if named else None


def form_id_of(request: Request) -> uuid.UUID:
    """The id that came with a form; a new one where it says nothing."""
    try:
        return uuid.UUID(request.POST.get("form_id", ""))
    except ValueError:
        return uuid.uuid4()


def closed(request: Request, member: Member) -> HttpResponse:
    """Back to the working draft's screen, with a sentence, from one that takes no more changes."""
    messages.error(request, CLOSED)
    return redirect("working", member.production.public_id)


def not_open(request: Request, member: Member) -> HttpResponse:
    """Back to the working draft's screen from a page of one that is not open."""
    messages.info(request, NOT_OF_THIS_ONE if member.production.working_drafts.open_now() else NONE_OPEN)
    return redirect("working", member.production.public_id)
