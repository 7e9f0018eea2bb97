"""A reader's own notes: in their words, and what became of each, in which draft, with the reason and the lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import render
from django.views.decorators.http import require_safe

from review.access import Deed
from review.home import own_notes as own
from review.papers.own_notes import own_paper_notes
from review.people.guard import members_who_may

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member


@require_safe
@members_who_may(Deed.READ)
def own_notes(request: HttpRequest, member: Member) -> HttpResponse:
    draft = member.production.drafts.current()
    found = own.own_notes(member, draft, request.GET.get("page", "")) if draft else None
    context = {"member": member, "draft": draft, "own": found, "on_papers": own_paper_notes(member)}
    return render(request, "home/own_notes.html", context)
