"""What an open page asks every few seconds: whether anything is new, and what."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.views.decorators.http import require_safe

from review.access import Deed
from review.news.telling import tell_news
from review.people.guard import members_who_may

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request


@require_safe
@members_who_may(Deed.READ)
def news(request: Request, member: Member) -> HttpResponse:
    """What happened, for any page of a production that shows something of it."""
    return tell_news(request, member)
