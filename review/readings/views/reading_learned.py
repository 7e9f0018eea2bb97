"""What came of a reading: for the writer all of it, for its readers, once they have finished, what the others said."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.core.exceptions import PermissionDenied
from django.http import Http404
from django.shortcuts import render
from django.views.decorators.http import require_safe

from review.access import Deed
from review.people.guard import members_who_may
from review.readers.models import Reader, Reading
from review.readings.answers_heard import heard_questions
from review.readings.compared import compared
from review.readings.finding import reading_or_404
from review.readings.glance import glance
from review.readings.learned import learned

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request

NOT_YET = (
    "You are reading draft {} on your own: what others said, in earlier readings too, is open to you once you have "
    "finished it. It waits for you on your home."
)


@require_safe
@members_who_may(Deed.READ)
def reading_learned(request: Request, member: Member, public_id: str) -> HttpResponse:
    reading = reading_or_404(member, public_id)
    if (alone := Reader.objects.keeping_from(member)) is not None:
        raise PermissionDenied(NOT_YET.format(alone.reading.draft.number))
    found = learned(member, reading)
    context = {
        "member": member,
        "reading": reading,
        "draft": reading.draft,
        "learned": found,
        "glance": glance(found),
        "heard": [] if member.is_writer else heard_questions(member, reading),
        "others": _others(member, reading) if member.is_writer else [],
    }
    return render(request, "readings/reading_learned.html", context)


@require_safe
@members_who_may(Deed.ASK_FOR_READING)
def reading_compare(request: Request, member: Member, public_id: str, other: str) -> HttpResponse:
    """A reading beside an earlier one: whether the scenes that lost readers then hold now."""
    reading = reading_or_404(member, public_id)
    earlier = next((each for each in _others(member, reading) if each.public_id == other), None)
    if earlier is None:
        raise Http404("No such reading")
    context = {
        "member": member,
        "reading": reading,
        "draft": reading.draft,
        "earlier": earlier,
        "compared": compared(member, earlier, reading),
    }
    return render(request, "readings/reading_compare.html", context)


def _others(member: Member, reading: Reading) -> list[Reading]:
    """The readings, of this draft or earlier ones, that were opened before this one."""
    known = Reading.objects.known_to(member).filter(pk__lt=reading.pk, draft__number__lte=reading.draft.number)
    return list(known.select_related("draft__production"))
