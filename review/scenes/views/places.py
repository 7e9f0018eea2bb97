"""Which places are one: those that look alike, what the writer said of them, and two to choose."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from review.access import Deed
from review.people.guard import members_who_may
from review.productions.said_names import shown_pairs
from review.requests import INVALID
from review.scenes.acts import keep_places_apart, merge_places
from review.scenes.breakdown import places_as_headed
from review.scenes.forms import PlacesForm
from screenplay.breakdown import alike_places, every_place

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member


@require_safe
@members_who_may(Deed.REWRITE)
def places(request: HttpRequest, member: Member) -> HttpResponse:
    return _show(request, member)


@require_POST
@members_who_may(Deed.REWRITE)
def places_merge(request: HttpRequest, member: Member) -> HttpResponse:
    """Let two places be one."""
    form = PlacesForm(request.POST)
    if not form.is_carried_out(merge_places, member):
        return _show(request, member, form)
    messages.success(request, "{other} is {name} now, wherever places are counted.".format(**form.cleaned_data))
    return redirect("scenes-places", member.production.public_id)


@require_POST
@members_who_may(Deed.REWRITE)
def places_apart(request: HttpRequest, member: Member) -> HttpResponse:
    """Let two places be two."""
    form = PlacesForm(request.POST)
    if not form.is_carried_out(keep_places_apart, member):
        return _show(request, member, form)
    messages.success(request, "{other} and {name} are two places.".format(**form.cleaned_data))
    return redirect("scenes-places", member.production.public_id)


def _show(request: HttpRequest, member: Member, refused: PlacesForm | None = None) -> HttpResponse:
    """The page, with what is wrong with a form that was refused."""
    draft = member.production.drafts.current()
    headed = places_as_headed(draft) if draft else []
    said = member.production.names_of_places
    context = {
        "member": member,
        "draft": draft,
        "refused": refused,
        "said": said,
        **shown_pairs(alike_places(headed, said)),
        "names": every_place(headed),
    }
    return render(request, "scenes/places.html", context, status=INVALID if refused else 200)
