"""One character's voice: every figure with the lines it comes from, its rules and where they are broken, and how near
it is to another's from draft to draft."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING
from urllib.parse import quote

from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST, require_safe

from review.access import Deed, may
from review.characters.acts import make_rule, withdraw_rule
from review.characters.forms import RuleForm
from review.characters.rules_in_force import rules_in_force
from review.downloads import download
from review.drafts.at_address import draft_or_404
from review.drafts.scripts import laid_out
from review.people.guard import members_who_may
from review.pictures.files import FILES
from review.productions.said_names import TooLongName
from review.requests import INVALID
from review.voices.across_drawn import draw_across
from review.voices.character import (
    asked_lines,
    distances,
    earlier_voice,
    figure_rows,
    voice_named,
    voice_then,
    working_voice,
)
from review.voices.table import voices_of
from screenplay.fountain import same_name
from screenplay.names import MOST_NAME
from screenplay.speech import COMMONEST_WORDS, FEWEST_WORDS, likeness

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from django.http import HttpRequest, HttpResponse

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.requests import Request
    from review.voices.character import VoiceThen
    from screenplay.speech import Voice

MOST_LINES = 200


@require_safe
@members_who_may(Deed.READ)
def voice(request: Request, member: Member, number: int, character: str) -> HttpResponse:
    return _show(request, member, number, character)


@require_POST
@members_who_may(Deed.REWRITE)
def voice_rule_new(request: Request, member: Member, number: int, character: str) -> HttpResponse:
    """Make a rule for the character's voice."""
    draft = draft_or_404(member, number)
    name = _voice_or_404(draft, character).name
    form = RuleForm(request.POST, scenes=laid_out(draft).scenes)
    if not form.is_valid():
        return _show(request, member, number, character, form, INVALID)
    try:
        make_rule(member, draft, form.rule_for(name), form.cleaned_data["form_id"])
    except TooLongName:
        form.add_error(None, f"A rule holds for a name of {MOST_NAME} characters at most. Shorten it in the script.")
        return _show(request, member, number, character, form, INVALID)
    messages.success(request, "The rule stands. Where it is broken is listed with it.")
    return redirect("voice", member.production.public_id, number, name)


@require_POST
@members_who_may(Deed.REWRITE)
def voice_rule_withdraw(request: HttpRequest, member: Member, public_id: str) -> HttpResponse:
    """Let a rule hold no more."""
    rule = get_object_or_404(member.production.character_rules, public_id=public_id)
    withdraw_rule(member, rule)
    messages.success(request, "The rule holds no more.")
    current = member.production.drafts.current()
    if current is None or voice_named(current, rule.character) is None:
        return redirect("voices-current", member.production.public_id)
    return redirect("voice", member.production.public_id, current.number, rule.character)


def _show(
    request: Request, member: Member, number: int, character: str, form: RuleForm | None = None, status: int = 200
) -> HttpResponse:
    draft = draft_or_404(member, number)
    now = _voice_or_404(draft, character)
    drafts = list(member.production.drafts.standing().select_related("production"))
    earlier = max((each for each in drafts if each.number < number), key=lambda each: each.number, default=None)
    every = voices_of(draft)
    rules = [each for each in rules_in_force(draft) if same_name(each.rule.character) == same_name(now.name)]
    may_rewrite = may(member, Deed.REWRITE)
    working = working_voice(member, draft, now.name, rules) if may_rewrite else None
    asked = (request.GET.get("lines", ""), request.GET.get("of", ""))
    lines = asked_lines(draft, now.name, *asked)
    models = _models(every, now)
    model = _model_asked_for(request, models)
    apart = distances(drafts, draft, now.name, model, working) if model else []
    across = draw_across(voice_then(drafts, draft, now.name, working), apart, model, _address(draft))
    context = {
        "member": member,
        "draft": draft,
        "drafts": drafts,
        "earlier": earlier,
        "voice": now,
        "working": working,
        "rows": figure_rows(now, earlier_voice(draft, earlier, now.name), working.voice if working else None),
        "rules": [(each, working.breaches.get(each.made.pk) if working else None) for each in rules],
        "asked": asked,
        "scene_numbers": {scene.ordinal: scene.number or f"{scene.ordinal}" for scene in laid_out(draft).scenes},
        "lines": lines[:MOST_LINES],
        "lines_left_out": max(len(lines) - MOST_LINES, 0),
        "models": models,
        "model": model,
        "of_model": f"?model={quote(model)}" if model else "",
        "distances": apart,
        "across": across,
        "most_like": found.most_like(now.name) if (found := likeness(every)) else None,
        "fewest_words": FEWEST_WORDS,
        "commonest_words": COMMONEST_WORDS,
        "form": form or RuleForm(scenes=laid_out(draft).scenes, initial={"form_id": uuid.uuid4()}),
        "may_rewrite": may_rewrite,
        "may_note": may(member, Deed.NOTE),
    }
    return render(request, "voices/voice.html", context, status=status)


@require_GET
@members_who_may(Deed.READ)
def voice_picture(request: Request, member: Member, number: int, ending: str, character: str) -> HttpResponse:
    """The voice draft by draft as a file that stands by itself."""
    draft = draft_or_404(member, number)
    now = _voice_or_404(draft, character)
    drafts = list(member.production.drafts.standing().select_related("production"))
    working = working_voice(member, draft, now.name, ()) if may(member, Deed.REWRITE) else None
    model = _model_asked_for(request, _models(voices_of(draft), now))
    apart = distances(drafts, draft, now.name, model, working) if model else []
    across = draw_across(voice_then(drafts, draft, now.name, working), apart, model, _address(draft))
    if across is None or ending not in FILES:
        raise Http404("No such picture")
    media_type, write = FILES[ending]
    return download(write(across.picture), draft.file_name(ending, now.name), media_type)


def _models(every: Sequence[Voice], now: Voice) -> list[str]:
    """The voices that one can be held against."""
    return [each.name for each in every if each.words >= FEWEST_WORDS and each.name != now.name]


def _model_asked_for(request: Request, models: Sequence[str]) -> str:
    return next((name for name in models if same_name(name) == same_name(request.GET.get("model", ""))), "")


def _address(draft: Draft) -> Callable[[VoiceThen], str]:
    """Where a voice is told of in each draft; of the working draft there is no such page."""

    def address(then: VoiceThen) -> str:
        if then.number is None or then.voice is None:
            return ""
        return reverse("voice", args=[draft.production.public_id, then.number, then.voice.name])

    return address


def _voice_or_404(draft: Draft, character: str) -> Voice:
    found = voice_named(draft, character)
    if found is None:
        raise Http404("Nobody of the name speaks")
    return found
