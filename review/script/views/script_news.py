"""What an open script asks every few seconds: what is new, as any page is told of it, and where the notes stand by now
on which others have said something. It comes in one answer: else each page would ask once more, all at once."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from django.utils import timezone
from django.views.decorators.http import require_safe

from review.access import Deed
from review.drafts.drawn_pages import draw_pages
from review.drafts.visits import new_since, visits_of
from review.news.telling import tell_news
from review.people.guard import members_who_may
from review.script.note_marks import in_short, note_marks

if TYPE_CHECKING:
    from collections.abc import Sequence

    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request


@require_safe
@members_who_may(Deed.READ)
def script_news(request: Request, member: Member, number: int) -> HttpResponse:
    """What happened, and as `marks` where its notes stand on the draft, a line each; nothing of those that are not on
    it, or not to be seen by the member. On a draft that does not stand, as one that was just withdrawn, none does."""
    return tell_news(request, member, partial(_marks, member, number))


def _marks(member: Member, number: int, notes: Sequence[str]) -> dict[str, object]:
    draft = member.production.drafts.standing().defer("text").filter(number=number).first() if notes else None
    if draft is None:
        return {"marks": ""}
    draft.production = member.production
    since = new_since(visits_of(member), timezone.now())
    return {"marks": in_short(note_marks(member, draft, draw_pages(draft), since, notes))}
