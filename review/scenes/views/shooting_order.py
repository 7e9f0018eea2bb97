"""What scenes share, and an order of shooting proposed from that."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from review.access import Deed, may
from review.people.guard import members_who_may
from review.scenes.acts import put_in_order
from review.scenes.breakdown import LIGHTS, scene_rows
from review.scenes.said_of_scenes import hand_order
from review.scenes.views.scenes import draft_or_404
from screenplay.breakdown import ORDER_RULE, by_cast, by_light, by_place, moves_of, propose_order

UNPROCESSABLE = 422

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from django.http import HttpResponse

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.requests import Request
    from review.scenes.breakdown import BreakdownRow
    from screenplay.breakdown import ShootingOrder


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.READ)
def shooting_order(request: Request, member: Member, number: int) -> HttpResponse:
    """Shows the order that stands: the proposal, or one made by hand. A form sent moves a scene, or begins again."""
    draft = draft_or_404(member, number)
    rows = scene_rows(member, draft)
    needs = [row.needs for row in rows]
    proposal = propose_order(needs)
    by_hand = hand_order(draft, len(rows))
    scenes = by_hand or proposal.scenes
    if request.method == "POST":
        moved = _moved(list(scenes), request.POST)
        if moved is None:
            return _show(request, member, draft, rows, proposal, by_hand, UNPROCESSABLE)
        put_in_order(member, draft, moved)
        at = request.POST.get("scene", "")
        address = reverse("scenes-order", args=[member.production.public_id, number])
        return redirect(f"{address}#scene-{at}" if moved and at.isdigit() else address)
    return _show(request, member, draft, rows, proposal, by_hand)


def _show(
    request: Request,
    member: Member,
    draft: Draft,
    rows: Sequence[BreakdownRow],
    proposal: ShootingOrder,
    by_hand: tuple[int, ...] | None,
    status: int = 200,
) -> HttpResponse:
    needs = [row.needs for row in rows]
    by_ordinal = {row.needs.ordinal: row for row in rows}
    shown = [by_ordinal[ordinal] for ordinal in by_hand or proposal.scenes]
    groups = [
        ("places", "By place", [(group.name or "No place said", group) for group in by_place(needs)]),
        ("cast", "By cast", [(group.name, group) for group in by_cast(needs)]),
        ("lights", "By day and night", [(LIGHTS[group.name], group) for group in by_light(needs)]),
    ]
    context = {
        "member": member,
        "draft": draft,
        "by_hand": by_hand is not None,
        "moves": moves_of([row.needs for row in shown]),
        "in_script_order": proposal.moves_in_script_order,
        "rows": shown,
        "rule": ORDER_RULE,
        "may_mark": may(member, Deed.MARK),
        "groups": [
            (key, label, [(name, [by_ordinal[one] for one in group.scenes], group.eighths) for name, group in these])
            for key, label, these in groups
        ],
    }
    return render(request, "scenes/shooting_order.html", context, status=status)


def _moved(scenes: list[int], said: Mapping[str, str]) -> list[int] | None:
    """The order with one scene moved to a place, counted from 1; none to begin again from the proposal; None where the
    form names no scene or no place."""
    if "again" in said:
        return []
    scene, place = said.get("scene", ""), said.get("to", "")
    if not (scene.isdecimal() and place.isdecimal() and int(scene) in scenes and 1 <= int(place) <= len(scenes)):
        return None
    scenes.remove(int(scene))
    scenes.insert(int(place) - 1, int(scene))
    return scenes
