"""Tells whoever reads alone, where notes are shown, that those of others are kept from them, and until when."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import template

from review.readers.models import Reader

if TYPE_CHECKING:
    from review.people.models import Member

register = template.Library()


@register.inclusion_tag("readings/reading_alone.html")
def reading_alone(member: Member) -> dict[str, Any]:
    alone = Reader.objects.alone_as(member).select_related("reading__draft").defer("reading__draft__text")
    reader = None if member.is_writer else alone.order_by("reading__until").first()
    return {"member": member, "reading": reader.reading if reader else None}
