"""How a view finds the talk that an address names."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import get_object_or_404

from review.talks.models import Talk

if TYPE_CHECKING:
    from review.people.models import Member


def talk_or_404(member: Member, public_id: str) -> Talk:
    """A talk that there is for the member."""
    talks = Talk.objects.known_to(member).select_related("draft", "called_by__person").distinct()
    found = get_object_or_404(talks.prefetch_related("members__person"), public_id=public_id)
    found.production = found.draft.production = member.production
    return found
