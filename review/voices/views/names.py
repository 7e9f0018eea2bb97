"""Which cues are one character: those that look alike, what the writer said of them, and two to choose."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from review.access import Deed
from review.characters.acts import keep_cues_apart, merge_cues
from review.drafts.scripts import NO_SCRIPT, read_as_written
from review.people.guard import members_who_may
from review.productions.said_names import shown_pairs
from review.requests import INVALID
from review.voices.forms import CuesForm
from screenplay.names import alike_cues
from screenplay.script import characters_of

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member


@require_safe
@members_who_may(Deed.REWRITE)
def names(request: HttpRequest, member: Member) -> HttpResponse:
    return _show(request, member)


@require_POST
@members_who_may(Deed.REWRITE)
def names_merge(request: HttpRequest, member: Member) -> HttpResponse:
    """Let two cues be one character."""
    form = CuesForm(request.POST)
    if not form.is_carried_out(merge_cues, member):
        return _show(request, member, form)
    messages.success(request, "{other} is {name} now, in every count and on every sheet.".format(**form.cleaned_data))
    return redirect("voice-names", member.production.public_id)


@require_POST
@members_who_may(Deed.REWRITE)
def names_apart(request: HttpRequest, member: Member) -> HttpResponse:
    """Let two cues be two characters."""
    form = CuesForm(request.POST)
    if not form.is_carried_out(keep_cues_apart, member):
        return _show(request, member, form)
    messages.success(request, "{other} and {name} are two characters.".format(**form.cleaned_data))
    return redirect("voice-names", member.production.public_id)


def _show(request: HttpRequest, member: Member, refused: CuesForm | None = None) -> HttpResponse:
    """The page, with what is wrong with a form that was refused."""
    draft = member.production.drafts.current()
    script = read_as_written(draft) if draft else NO_SCRIPT
    said = member.production.names
    context = {
        "member": member,
        "draft": draft,
        "refused": refused,
        "said": said,
        **shown_pairs(alike_cues(script, said)),
        "names": sorted(one.name for one in characters_of(script)),
    }
    return render(request, "voices/names.html", context, status=INVALID if refused else 200)
