"""How each character talks, in figures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_safe

from review.access import Deed, may
from review.characters.rules_in_force import rules_in_force
from review.downloads import download
from review.drafts.at_address import draft_or_404
from review.drafts.scripts import laid_out
from review.people.guard import members_who_may
from review.pictures.files import FILES
from review.voices.exchanges_drawn import draw_exchanges
from review.voices.likeness_drawn import draw_likeness
from review.voices.share_drawn import draw_share
from review.voices.table import column_heads, gone_voices, read_order, voice_rows, voices_of
from screenplay.script import words_sung_alone
from screenplay.speech import COMMONEST_WORDS, FEWEST_WORDS, FEWEST_WORDS_TO_SET, likeness

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from django.http import HttpRequest, HttpResponse

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.pictures.shapes import Picture
    from screenplay.speech import Voice


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
    draft = draft_or_404(member, number)
    earlier = max((each for each in drafts if each.number < number), key=lambda each: each.number, default=None)
    order = read_order(request.GET.get("sort", ""))
    lines = voice_rows(draft, earlier, order)
    every, address = voices_of(draft), voice_address(draft)
    context = {
        "member": member,
        "drafts": drafts,
        "draft": draft,
        "earlier": earlier,
        "heads": column_heads(order),
        "lines": lines,
        "words": sum(line.voice.words for line in lines),
        "sung": words_sung_alone(laid_out(draft).script),
        "speeches": sum(line.voice.speeches for line in lines),
        "short": [line.voice.name for line in lines if line.voice.words < FEWEST_WORDS],
        "gone": gone_voices(draft, earlier) if earlier else (),
        "fewest_words": FEWEST_WORDS,
        "fewest_words_to_set": FEWEST_WORDS_TO_SET,
        "commonest_words": COMMONEST_WORDS,
        "may_note": may(member, Deed.NOTE),
        "may_rewrite": may(member, Deed.REWRITE),
        "exchanges": draw_exchanges(every, address),
        "likeness": draw_likeness(likeness(every), address),
        "rules": rules_in_force(draft),
    }
    return render(request, "voices/voices.html", context)


@require_GET
@members_who_may(Deed.READ)
def voices_picture(request: HttpRequest, member: Member, number: int, name: str, ending: str) -> HttpResponse:
    """A picture of the voices as a file that stands by itself."""
    if name not in DRAWN or ending not in FILES:
        raise Http404("No such picture")
    draft = draft_or_404(member, number)
    picture = DRAWN[name](voices_of(draft), voice_address(draft))
    if picture is None:
        raise Http404("There is nothing to draw")
    media_type, write = FILES[ending]
    return download(write(picture), draft.file_name(ending, name), media_type)


def voice_address(draft: Draft) -> Callable[[str], str]:
    """Where each voice of a draft is told of, by its name."""
    return lambda name: reverse("voice", args=[draft.production.public_id, draft.number, name])


def _exchanges(voices: Sequence[Voice], address: Callable[[str], str]) -> Picture | None:
    drawn = draw_exchanges(voices, address)
    return drawn.picture if drawn else None


def _likeness(voices: Sequence[Voice], address: Callable[[str], str]) -> Picture | None:
    drawn = draw_likeness(likeness(voices), address)
    return drawn.picture if drawn else None


DRAWN = {"share": draw_share, "exchanges": _exchanges, "likeness": _likeness}
