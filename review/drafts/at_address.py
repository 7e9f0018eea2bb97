"""The draft that an address names by its number."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import Http404
from django.urls import reverse

from review.errors import Withdrawn

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.people.models import Member


def draft_or_404(member: Member, number: int, *, with_text: bool = True, withdrawn_too: bool = False) -> Draft:
    """The draft of the member's production that has this number and stands, or, with `withdrawn_too`, was withdrawn.

    Without its text that is fetched by whoever asks for it: what is worked out of it is kept. Raises Http404.
    """
    drafts = member.production.drafts.all() if withdrawn_too else member.production.drafts.standing()
    draft: Draft | None = (drafts if with_text else drafts.defer("text")).filter(number=number).first()
    if draft is None:
        raise no_such_draft(member, number)
    draft.production = member.production
    return draft


def no_such_draft(member: Member, *numbers: int) -> Http404:
    """Why none stands under one of these numbers: it was withdrawn, as every member may know, or never was."""
    gone = member.production.drafts.numbered(*numbers).exclude(withdrawn_at=None).order_by("number")
    number = gone.values_list("number", flat=True).first()
    if number is None:
        return Http404("No such draft")
    return Withdrawn(f"Draft {number}", reverse("home", args=[member.production.public_id]))
