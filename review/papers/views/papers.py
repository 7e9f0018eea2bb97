"""The world papers that a member may read."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.db.models import Max, Prefetch
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from review.access import Deed, may
from review.papers.acts import put_paper_back, withdraw_paper
from review.papers.finding import paper_or_404
from review.papers.models import PaperReaders, WorldPaper
from review.people.guard import members_who_may

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member


@require_safe
@members_who_may(Deed.READ)
def papers(request: HttpRequest, member: Member) -> HttpResponse:
    visible = WorldPaper.objects.visible_to(member).annotate(
        latest=Max("versions__number"), since=Max("versions__created_at")
    )
    readers = PaperReaders.objects.select_related("member__person").order_by("pk")
    found = list(visible.prefetch_related(Prefetch("readers", readers)))
    context = {
        "member": member,
        "papers": [paper for paper in found if paper.withdrawn_at is None],
        "withdrawn": [paper for paper in found if paper.withdrawn_at is not None],
        "may_write": may(member, Deed.WRITE_PAPERS),
    }
    return render(request, "papers/papers.html", context)


@require_POST
@members_who_may(Deed.WRITE_PAPERS)
def paper_withdraw(request: HttpRequest, member: Member, public_id: str) -> HttpResponse:
    paper = paper_or_404(member, public_id)
    withdraw_paper(member, paper)
    messages.info(request, f"{paper.title} is withdrawn. It is kept, with its notes, and can be put back.")
    return redirect("papers", member.production.public_id)


@require_POST
@members_who_may(Deed.WRITE_PAPERS)
def paper_put_back(request: HttpRequest, member: Member, public_id: str) -> HttpResponse:
    paper = paper_or_404(member, public_id)
    put_paper_back(member, paper)
    return redirect("paper", member.production.public_id, paper.public_id)
