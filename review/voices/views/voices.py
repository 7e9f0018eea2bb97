"""How each character talks, in figures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_safe

from review.access import Deed, may
from review.characters.rules_in_force import rules_in_force
from review.people.guard import members_who_may
from review.voices.exchanges_drawn import draw_exchanges
from review.voices.likeness_drawn import draw_likeness
from review.voices.table import column_heads, gone_voices, read_order, voice_rows, voices_of
from screenplay.speech import COMMONEST_WORDS, FEWEST_WORDS, likeness

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member


@require_safe
@members_who_may(Deed.READ)
def voices_current(request: HttpRequest, member: Member) -> HttpResponse:
    """Leads to the voices of the current draft."""
    current = member.production.drafts.current()
    if current:
        return redirect("voices", member.production.public_id, current.number)
    return render(request, "voices/voices_none.html", {"member": member, "may_publish": may(member, Deed.PUBLISH)})


@require_safe
@members_who_may(Deed.READ)
def voices(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    drafts = list(member.production.drafts.standing().select_related("production").defer("text"))
    draft = get_object_or_404(member.production.drafts.standing().select_related("production"), number=number)
    earlier = max((each for each in drafts if each.number < number), key=lambda each: each.number, default=None)
    order = read_order(request.GET.get("sort", ""))
    lines = voice_rows(draft, earlier, order)
    context = {
        "member": member,
        "drafts": drafts,
        "draft": draft,
        "earlier": earlier,
        "heads": column_heads(order),
        "lines": lines,
        "words": sum(line.voice.words for line in lines),
        "speeches": sum(line.voice.speeches for line in lines),
        "gone": gone_voices(draft, earlier) if earlier else (),
        "fewest_words": FEWEST_WORDS,
        "commonest_words": COMMONEST_WORDS,
        "may_note": may(member, Deed.NOTE),
        "may_rewrite": may(member, Deed.REWRITE),
        "exchanges": draw_exchanges(voices_of(draft)),
        "likeness": draw_likeness(likeness(voices_of(draft))),
        "rules": rules_in_force(draft),
    }
    return render(request, "voices/voices.html", context)
