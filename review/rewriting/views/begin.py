"""Beginning the next draft: from the current one, from an older one that is restored, or one that was set aside."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from review.access import Deed, members_who_may
from review.rewriting import acts
from review.rewriting.models import WorkingDraft

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request


CONFLICT = 409


@require_POST
@members_who_may(Deed.REWRITE)
def working_begin(request: Request, member: Member) -> HttpResponse:
    """Begin the next draft from the current one, or find the one that is open."""
    current = member.production.current_draft
    if current is None:
        raise Http404("There is no draft to go on from")
    acts.begin_working(member, current, _form_id(request))
    return redirect("working", member.production.public_id)


@require_POST
@members_who_may(Deed.REWRITE)
def working_set_aside(request: Request, member: Member) -> HttpResponse:
    found = acts.open_working(member.production)
    if found is not None:
        try:
            acts.set_aside_working(member, found)
        except acts.WorkingIsClosed:
            messages.error(request, "The working draft has been put up meanwhile: it is a draft of its own now.")
            return redirect("working", member.production.public_id)
        messages.success(request, "The working draft is set aside with every word in it. It can be taken up again.")
    return redirect("working", member.production.public_id)


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.REWRITE)
def working_take_up(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Go on with a working draft that was set aside, after asking where another is open."""
    aside = WorkingDraft.objects.select_related("base").filter(production=member.production, public_id=public_id)
    working = get_object_or_404(aside)
    status = 200
    if request.method == "POST":
        try:
            acts.take_up_working(member, working, set_aside=_to_set_aside(request, member))
            return redirect("working", member.production.public_id)
        except acts.WorkingIsClosed:
            messages.error(request, "That working draft has been put up, so it is a draft of its own now.")
            return redirect("working", member.production.public_id)
        except acts.AnotherIsOpen:
            status = CONFLICT
    context = {"member": member, "aside": working, "open": acts.open_working(member.production), "status": status}
    return render(request, "rewriting/take_up.html", context, status=status)


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.REWRITE)
def draft_restore(request: Request, member: Member, number: int) -> HttpResponse:
    """Make an old draft's text the new working draft, after saying what becomes of the one that is open."""
    restored = get_object_or_404(member.production.drafts, number=number)
    current = member.production.current_draft
    if current is None:
        raise Http404("No such draft")
    status = 200
    if request.method == "POST":
        aside = _to_set_aside(request, member)
        try:
            acts.begin_working(member, current, _form_id(request), restored=restored, set_aside=aside)
            messages.success(request, f"The working draft now reads as draft {restored.number} did.")
            return redirect("working", member.production.public_id)
        except acts.AnotherIsOpen:
            status = CONFLICT
    context = {
        "member": member,
        "restored": restored,
        "current": current,
        "open": acts.open_working(member.production),
        "status": status,
    }
    return render(request, "rewriting/restore.html", context, status=status)


def _to_set_aside(request: Request, member: Member) -> WorkingDraft | None:
    """The working draft that the page said would be set aside."""
    named = request.POST.get("set_aside", "")
    return WorkingDraft.objects.filter(production=member.production, public_id=named).first() if named else None


def _form_id(request: Request) -> uuid.UUID:
    """The id that came with a form; a new one where it says nothing."""
    try:
        return uuid.UUID(request.POST.get("form_id", ""))
    except ValueError:
        return uuid.uuid4()
