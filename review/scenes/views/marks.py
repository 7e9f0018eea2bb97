"""The words that departments marked, where they stand, and words that may want a mark."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from review.access import Deed, may
from review.drafts.scripts import read_script
from review.people.guard import members_who_may
from review.people.models import Department
from review.scenes.acts import mark_word, withdraw_mark
from review.scenes.breakdown import scene_rows
from review.scenes.forms import WordMarkForm
from review.scenes.said_of_scenes import marks_of, places_marked
from review.scenes.views.scenes import draft_or_404
from screenplay.breakdown import suggestions

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member
    from review.requests import Request

UNPROCESSABLE = 422


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.READ)
def marks(request: Request, member: Member, number: int) -> HttpResponse:
    """Lists the marks of a draft; a form sent marks a word."""
    draft = draft_or_404(member, number)
    first = {"form_id": uuid.uuid4(), "department": member.department, "words": request.GET.get("words", "")}
    form = WordMarkForm(request.POST) if request.method == "POST" else WordMarkForm(initial=first)
    if request.method == "POST" and form.is_valid():
        said = form.cleaned_data
        mark = mark_word(member, said["words"], said["department"], said["form_id"])
        messages.success(request, f"“{mark.words}” is known from now on, wherever it stands.")
        return redirect("scenes-marks", member.production.public_id, number)
    places = places_marked(draft)
    names = {row.needs.ordinal: row for row in scene_rows(member, draft)}
    labels = dict(Department.choices)
    standing = [
        (mark, labels[mark.department], [place for place in places if place.mark == mark.as_word])
        for mark in draft.production.marks.filter(withdrawn_at=None)
    ]
    context = {
        "member": member,
        "draft": draft,
        "marks": [
            (mark, label, [(names.get(place.scene), place) for place in these]) for mark, label, these in standing
        ],
        "suggestions": [(names.get(one.scene), one) for one in suggestions(read_script(draft), marks_of(draft))],
        "form": form,
        "may_mark": may(member, Deed.MARK),
    }
    return render(request, "scenes/marks.html", context, status=UNPROCESSABLE if form.is_bound else 200)


@require_POST
@members_who_may(Deed.MARK)
def mark_withdraw(request: HttpRequest, member: Member, public_id: str) -> HttpResponse:
    """Take a mark back."""
    mark = get_object_or_404(member.production.marks, public_id=public_id)
    withdraw_mark(member, mark)
    messages.success(request, f"“{mark.words}” is marked no more.")
    current = member.production.drafts.current()
    if current is None:
        return redirect("scenes-current", member.production.public_id)
    return redirect("scenes-marks", member.production.public_id, current.number)
