"""Something that is being made, for whoever asked for it: how far it is, and what came of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from review.access import Deed, refuse_unless
from review.making.acts import say_it_was_given_up
from review.making.models import Making
from review.people.guard import members_who_may
from review.requests import CONFLICT

if TYPE_CHECKING:
    from review.people.models import Member
    from review.requests import Request

STATUS_OF = {"": 202, Making.Ending.MADE: 202, Making.Ending.FAILED: 500, Making.Ending.GIVEN_UP: 503}


@require_safe
@members_who_may(Deed.READ)
def making(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Hands over what was made, if its owner may read the same by now; before that, shows how far it is, of which a
    page that stays open asks for the line."""
    found = Making.objects.of(member).filter(public_id=public_id).first()
    if found is None and request.htmx:
        return render(request, "making/making_line.html", {"member": member, "making": None})
    if found is None:
        raise Http404("Nothing of that name is being made")
    if found.is_silent:
        say_it_was_given_up(found)
    if found.is_made and not request.htmx:
        refuse_unless(member, Deed[found.deed])
        if found.is_for(member):
            return HttpResponse(bytes(found.content or b""), status=found.status, headers=found.headers)
    return show_making(request, member, found)


def show_making(request: Request, member: Member, making: Making) -> HttpResponse:
    """How far it is: the line alone for a page that asks for it."""
    has_changed = making.is_made and not making.is_for(member)
    context = {"member": member, "making": making, "has_changed": has_changed}
    if request.htmx:
        return render(request, "making/making_line.html", context)
    status = CONFLICT if has_changed else STATUS_OF[making.ending]
    return render(request, "making/making.html", context, status=status)
