"""How a view finds the paper that an address names."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import get_object_or_404

from review.papers.models import WorldPaper

if TYPE_CHECKING:
    from review.people.models import Member


def paper_or_404(member: Member, public_id: str) -> WorldPaper:
    """A paper that the member may read, withdrawn ones too for writers."""
    papers = WorldPaper.objects.visible_to(member).select_related("production")
    found: WorldPaper = get_object_or_404(papers, public_id=public_id)
    return found
