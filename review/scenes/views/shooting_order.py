"""What scenes share, and an order of shooting proposed from that."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from review.access import Deed, may
from review.drafts.at_address import draft_or_404
from review.people.guard import members_who_may
from review.requests import INVALID
from review.scenes.acts import UnknownScene, begin_order_again, move_scene_in_order
from review.scenes.breakdown import LIGHTS, needs_of, scene_rows
from review.scenes.forms import MoveForm
from review.scenes.said_of_scenes import hand_order
from screenplay.breakdown import ORDER_RULE, by_cast, by_light, by_place, moves_of, propose_order

if TYPE_CHECKING:
    from collections.abc import Mapping

    from django.http import HttpRequest, HttpResponse

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.scenes.breakdown import BreakdownRow
    from screenplay.breakdown import SceneGroup

UNKNOWN = "Nothing was moved: the form named no scene of this draft, or no place in its order. Move it here."


@require_safe
@members_who_may(Deed.READ)
def shooting_order(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    """Shows the order that stands: the proposal, or one made by hand."""
    return _show(request, member, draft_or_404(member, number))


@require_POST
@members_who_may(Deed.MARK)
def order_move(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    """Move a scene in the order. The page opens at its key for the same way, which has the focus then, so that it is
    pressed on by keyboard until the scene is where it belongs."""
    draft = draft_or_404(member, number)
    form = MoveForm(request.POST)
    if not form.is_valid():
        return _show(request, member, draft, UNKNOWN)
    scene, to = form.cleaned_data["scene"], form.cleaned_data["to"]
    try:
        was = move_scene_in_order(member, draft, scene, to)
    except UnknownScene:
        return _show(request, member, draft, UNKNOWN)
    is_earlier = to == len(needs_of(draft)) or (1 < to < was)
    address = reverse("scenes-order", args=[member.production.public_id, number])
    return redirect(f"{address}#{'earlier' if is_earlier else 'later'}-{scene}")


@require_POST
@members_who_may(Deed.MARK)
def order_again(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    """Begin again from the order that is proposed."""
    begin_order_again(member, draft_or_404(member, number))
    messages.success(request, "This is the proposal again.")
    return redirect("scenes-order", member.production.public_id, number)


def _ways_in(group: SceneGroup, rows: Mapping[int, BreakdownRow]) -> list[tuple[BreakdownRow, str]]:
    """The scenes of a group in their order, each with how one of the cast is in it: "named", "heard", or ""."""
    told = [(one, "named" if one in group.named else "") for one in group.scenes]
    told += [(one, "heard") for one in group.heard]
    return [(rows[one], how) for one, how in sorted(told)]


def _show(request: HttpRequest, member: Member, draft: Draft, sentence: str = "") -> HttpResponse:
    """The page, with a sentence where what was asked for was refused."""
    rows = scene_rows(member, draft)
    needs = [row.needs for row in rows]
    proposal = propose_order(needs)
    by_hand = hand_order(draft, len(rows))
    by_ordinal = {row.needs.ordinal: row for row in rows}
    shown = [by_ordinal[ordinal] for ordinal in by_hand or proposal.scenes]
    groups = [
        ("places", "By place", [(group.name or "No place said", group) for group in by_place(needs)]),
        ("cast", "By cast", [(group.name, group) for group in by_cast(needs)]),
        ("lights", "By day and night", [(LIGHTS[group.name], group) for group in by_light(needs)]),
    ]
    moves, in_script_order = moves_of([row.needs for row in shown]), proposal.moves_in_script_order
    context = {
        "member": member,
        "draft": draft,
        "sentence": sentence,
        "by_hand": by_hand is not None,
        "moves": moves,
        "in_script_order": in_script_order,
        "saved": (in_script_order.places - moves.places, in_script_order.lights - moves.lights),
        "rows": shown,
        "rule": ORDER_RULE,
        "may_mark": may(member, Deed.MARK),
        "groups": [
            (
                key,
                label,
                [(name, _ways_in(group, by_ordinal), group.eighths, len(group.scenes)) for name, group in these],
            )
            for key, label, these in groups
        ],
    }
    return render(request, "scenes/shooting_order.html", context, status=INVALID if sentence else 200)
