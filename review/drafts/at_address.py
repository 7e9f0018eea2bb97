"""The draft that an address names by its number."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import get_object_or_404

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.people.models import Member


def draft_or_404(member: Member, number: int, *, with_text: bool = True, withdrawn_too: bool = False) -> Draft:
    """The draft of the member's production that has this number and stands, or, with `withdrawn_too`, was withdrawn.

    Without its text that is fetched by whoever asks for it: what is worked out of it is kept. Raises Http404.
    """
    drafts = member.production.drafts.all() if withdrawn_too else member.production.drafts.standing()
    draft: Draft = get_object_or_404(drafts if with_text else drafts.defer("text"), number=number)
    draft.production = member.production
    return draft
