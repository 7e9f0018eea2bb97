"""Tells whoever reads alone, where notes are shown, that those of others are kept from them, and until when; and on a
draft that they were asked to read, that they were."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import template

from review.readers.models import Reader

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.people.models import Member

register = template.Library()


@register.inclusion_tag("readings/reading_alone.html")
def reading_alone(member: Member) -> dict[str, Any]:
    alone = Reader.objects.alone_as(member).select_related("reading__draft").defer("reading__draft__text")
    reader = None if member.is_writer else alone.order_by("reading__until").first()
    return {"member": member, "reading": reader.reading if reader else None}


@register.inclusion_tag("readings/reading_here.html")
def reading_here(member: Member, draft: Draft) -> dict[str, Any]:
    """The open reading of this draft that waits for the member, if one does."""
    waiting = Reader.objects.in_it().filter(member=member, finished_at=None, reading__draft=draft)
    reader = waiting.filter(reading__closed_at=None).select_related("reading").order_by("reading__until").first()
    return {"member": member, "reading": reader.reading if reader else None}
