"""Tells whoever reads alone, where notes are shown, that those of others are kept from them, and until when; and on a
draft that they were asked to read, that they were."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import template

from review.readers.models import Reader, Reading

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.people.models import Member

register = template.Library()


@register.inclusion_tag("readings/reading_alone.html")
def reading_alone(member: Member) -> dict[str, Any]:
    alone = Reader.objects.alone_as(member).select_related("reading__draft").defer("reading__draft__text")
    reader = alone.order_by("reading__until").first()
    return {"member": member, "reading": reader.reading if reader else None}


@register.simple_tag
def reads_alone(member: Member) -> bool:
    """Whether the notes of others are kept from them."""
    return Reader.objects.alone_as(member).exists()


@register.inclusion_tag("readings/reading_here.html")
def reading_here(member: Member, draft: Draft) -> dict[str, Any]:
    """The open reading of this draft that waits for the member, if one does; and one of another draft that keeps the
    others' words from them on this one too. One query."""
    waiting = Reader.objects.waited_for().filter(member=member, reading__in=Reading.objects.open())
    found = waiting.select_related("reading__draft").defer("reading__draft__text").order_by("reading__until")
    readings = [reader.reading for reader in found]
    here = next((reading for reading in readings if reading.draft_id == draft.pk), None)
    alone = next((reading for reading in readings if reading.is_blind), None)
    return {"member": member, "reading": here, "elsewhere": None if here else alone}
