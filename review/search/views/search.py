"""Searching a production: its script, the notes and the replies, in script order, and its world papers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import render
from django.views.decorators.http import require_safe

from review.access import Deed, may
from review.findable.terms import MOST_ASKED, terms_in
from review.papers.models import WorldPaper
from review.people.guard import members_who_may
from review.search.found import find
from review.search.found_on_papers import find_on_papers
from review.search.said_in_words import said_in_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from django.http import HttpRequest, HttpResponse

    from review.drafts.models import Draft
    from review.people.models import Member


@require_safe
@members_who_may(Deed.READ)
def search(request: HttpRequest, member: Member) -> HttpResponse:
    """What has the words that an address asks `for`, in the current draft or in the one it names as `draft`, and in
    papers."""
    asked = " ".join(request.GET.get("for", "").split())[:MOST_ASKED]
    drafts = list(member.production.drafts.standing().select_related("production"))
    draft = _chosen(drafts, request.GET.get("draft", ""))
    terms = terms_in(asked)
    found = find(member, draft, terms) if draft and terms else None
    on_papers = find_on_papers(member, terms) if terms else None
    context = {
        "member": member,
        "asked": asked,
        "drafts": drafts,
        "draft": draft,
        "current": drafts[-1] if drafts else None,
        "has_something": bool(drafts) or WorldPaper.objects.visible_to(member).exists(),
        "found": found,
        "on_papers": on_papers,
        "said": said_in_words(found, on_papers),
        "may_publish": may(member, Deed.PUBLISH),
    }
    return render(request, "search/search.html", context)


def _chosen(drafts: Sequence[Draft], named: str) -> Draft | None:
    """The draft of a number; the current one where there is none of it."""
    by_number = {str(draft.number): draft for draft in drafts}
    return by_number.get(named) or (drafts[-1] if drafts else None)
