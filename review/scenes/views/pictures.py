"""Pictures of a draft: who is in which scene, and how long the scenes are, on a page and as files."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import Http404
from django.shortcuts import render
from django.template.loader import render_to_string
from django.views.decorators.http import require_GET, require_safe

from review.access import Deed
from review.downloads import download
from review.people.guard import members_who_may
from review.scenes.breakdown import scene_rows
from review.scenes.lengths_drawn import draw_lengths
from review.scenes.presence_drawn import draw_presence
from review.scenes.views.scenes import draft_or_404

if TYPE_CHECKING:
    from typing import Any

    from django.http import HttpRequest, HttpResponse

    from review.drafts.models import Draft
    from review.people.models import Member

DRAWN = {"presence": "scenes/presence.svg", "lengths": "scenes/lengths.svg"}


@require_safe
@members_who_may(Deed.READ)
def pictures(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    draft = draft_or_404(member, number)
    return render(request, "scenes/pictures.html", _drawn(member, draft))


@require_GET
@members_who_may(Deed.READ)
def picture_file(request: HttpRequest, member: Member, number: int, name: str) -> HttpResponse:
    """One picture as a file that stands by itself."""
    if name not in DRAWN:
        raise Http404("No such picture")
    draft = draft_or_404(member, number)
    context = _drawn(member, draft) | {"alone": True}
    if context[name] is None:
        raise Http404("There is nothing to draw")
    svg = render_to_string(DRAWN[name], context, request)
    return download(svg.strip().encode(), draft.file_name("svg", name), "image/svg+xml")


def _drawn(member: Member, draft: Draft) -> dict[str, Any]:
    rows = scene_rows(member, draft)
    return {"member": member, "draft": draft, "presence": draw_presence(rows), "lengths": draw_lengths(rows)}
