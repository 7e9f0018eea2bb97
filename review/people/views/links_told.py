"""Where somebody says that they have read which links others made to sign in as them."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from django.contrib import messages
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from review.people import acts
from review.people.sessions import not_by_link

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Person


@require_POST
@not_by_link
def links_told(request: HttpRequest) -> HttpResponse:
    """Take note; and where they say so, shut what the links have opened."""
    person = cast("Person", request.user)  # the middleware saw to it
    if "shut" in request.POST:
        acts.shut_links(person)
        messages.success(request, "Nobody is signed in as you by a link any more, and none that is left opens.")
    acts.acknowledge_links(person)
    return redirect("productions")
