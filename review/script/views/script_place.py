"""Where a reader is in the script, as the page tells it while they read."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import HttpResponse
from django.views.decorators.http import require_POST

from review.access import Deed
from review.drafts.visits import be_at
from review.people.guard import members_who_may
from review.script.forms import PlaceForm
from review.script.views.script import draft_or_404

if TYPE_CHECKING:
    from review.people.models import Member
    from review.requests import Request

UNPROCESSABLE, NO_CONTENT = 422, 204


@require_POST
@members_who_may(Deed.READ)
def script_place(request: Request, member: Member, number: int) -> HttpResponse:
    """Keep the line that the reader is at, for the next time, on whichever device."""
    draft = draft_or_404(member, number)
    form = PlaceForm(request.POST)
    if not form.is_valid():
        return HttpResponse("That is no line of the script.", status=UNPROCESSABLE)
    be_at(member, draft, form.cleaned_data["line"])
    return HttpResponse(status=NO_CONTENT)
