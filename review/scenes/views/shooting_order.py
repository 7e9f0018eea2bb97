"""What scenes share, and an order of shooting proposed from that."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import render
from django.views.decorators.http import require_safe

from review.access import Deed
from review.people.guard import members_who_may
from review.scenes.breakdown import LIGHTS, scene_rows
from review.scenes.views.scenes import draft_or_404
from screenplay.breakdown import ORDER_RULE, by_cast, by_light, by_place, propose_order

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member


@require_safe
@members_who_may(Deed.READ)
def shooting_order(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    draft = draft_or_404(member, number)
    rows = scene_rows(member, draft)
    needs = [row.needs for row in rows]
    order = propose_order(needs)
    by_ordinal = {row.needs.ordinal: row for row in rows}
    groups = [
        ("places", "By place", [(group.name or "No place said", group) for group in by_place(needs)]),
        ("cast", "By cast", [(group.name, group) for group in by_cast(needs)]),
        ("lights", "By day and night", [(LIGHTS[group.name], group) for group in by_light(needs)]),
    ]
    context = {
        "member": member,
        "draft": draft,
        "order": order,
        "rows": [by_ordinal[ordinal] for ordinal in order.scenes],
        "rule": ORDER_RULE,
        "groups": [
            (key, label, [(name, [by_ordinal[one] for one in group.scenes], group.eighths) for name, group in these])
            for key, label, these in groups
        ],
    }
    return render(request, "scenes/shooting_order.html", context)
