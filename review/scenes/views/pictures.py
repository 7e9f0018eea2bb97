"""Pictures of a draft's scenes: who is in which, how long they are, and what became of them from draft to draft, on a
page and as files."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import Http404
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_safe

from review.access import Deed
from review.downloads import download
from review.drafts.at_address import draft_or_404
from review.people.guard import members_who_may
from review.pictures.files import FILES
from review.scenes.breakdown import scene_rows
from review.scenes.flow_drawn import draw_flow
from review.scenes.lengths_drawn import draw_lengths
from review.scenes.presence_drawn import draw_presence

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.scenes.flow_drawn import FlowDrawn
    from review.scenes.lengths_drawn import LengthsDrawn
    from review.scenes.presence_drawn import PresenceDrawn


@require_safe
@members_who_may(Deed.READ)
def pictures(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    draft = draft_or_404(member, number)
    context = {
        "member": member,
        "draft": draft,
        "presence": _presence(member, draft),
        "lengths": _lengths(member, draft),
        "flow": _flow(member, draft),
    }
    return render(request, "scenes/pictures.html", context)


@require_GET
@members_who_may(Deed.READ)
def picture_file(request: HttpRequest, member: Member, number: int, name: str, ending: str) -> HttpResponse:
    """One picture as a file that stands by itself."""
    if name not in DRAWN or ending not in FILES:
        raise Http404("No such picture")
    draft = draft_or_404(member, number)
    drawn = DRAWN[name](member, draft)
    if drawn is None:
        raise Http404("There is nothing to draw")
    media_type, write = FILES[ending]
    return download(write(drawn.picture), draft.file_name(ending, name), media_type)


def _presence(member: Member, draft: Draft) -> PresenceDrawn | None:
    return draw_presence(scene_rows(member, draft), _script(draft))


def _lengths(member: Member, draft: Draft) -> LengthsDrawn | None:
    return draw_lengths(scene_rows(member, draft), _script(draft))


def _flow(member: Member, draft: Draft) -> FlowDrawn | None:
    """All drafts up to this one."""
    drafts = member.production.drafts.standing().filter(number__lte=draft.number)
    return draw_flow(list(drafts.select_related("production").order_by("number")), _script)


DRAWN = {"presence": _presence, "lengths": _lengths, "flow": _flow}


def _script(draft: Draft) -> str:
    return reverse("script", args=[draft.production.public_id, draft.number])
