"""The reading that an address names, as a member may find it; none that they do not read in exists for a reader."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import Http404
from django.shortcuts import get_object_or_404

from review.readers.models import Reader, Reading

if TYPE_CHECKING:
    from review.people.models import Member


def reading_or_404(member: Member, public_id: str) -> Reading:
    """A reading of the member's production that there is for them."""
    found = Reading.objects.known_to(member).select_related("draft__production", "opened_by__person")
    return get_object_or_404(found, public_id=public_id)


def followed_reading_or_404(member: Member, public_id: str) -> Reading:
    """A reading of which the member may see how far its readers are."""
    found = Reading.objects.followed_by(member).select_related("draft__production", "opened_by__person")
    return get_object_or_404(found, public_id=public_id)


def reader_or_404(member: Member, public_id: str) -> Reader:
    """The reader that the member is in a reading."""
    found = Reader.objects.in_it().filter(reading__in=Reading.objects.known_to(member))
    own = found.select_related("reading__draft__production", "reading__opened_by__person", "member__person")
    try:
        return own.get(reading__public_id=public_id, member=member)
    except Reader.DoesNotExist:
        raise Http404("No such reading") from None
