"""Why each scene of a draft is in the film, in the writer's words, for writers alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from review.access import Deed
from review.drafts.at_address import draft_or_404
from review.drafts.scripts import laid_out
from review.notes.forms import kept_key
from review.people.guard import members_who_may
from review.readers.models import Reading
from review.readings.followed_scenes import purposes_in
from review.readings.question_acts import PurposesChangedMeanwhile, write_purposes
from review.readings.question_models import MOST_PURPOSE
from review.requests import CONFLICT, INVALID, lead_on

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request
    from screenplay.script import Scene


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.ASK_FOR_READING)
def scene_purposes(request: Request, member: Member, number: int) -> HttpResponse:
    """The purposes, and what the form sends of them: for each scene, by its ordinal, the words and what they were when
    the form was shown. Of two who write the same one, the later is shown what the other wrote."""
    draft = draft_or_404(member, number)
    scenes = laid_out(draft).scenes
    given: dict[int, str] = {}
    shown: dict[int, str] = {}
    theirs: Mapping[int, str] = {}
    too_long = 0
    if request.method == "POST":
        given, shown = _said(request, "scene", scenes), _said(request, "shown", scenes)
        too_long = next((ordinal for ordinal, text in given.items() if len(text) > MOST_PURPOSE), 0)
        if not too_long:
            try:
                changed = write_purposes(member, draft, given, shown)
            except PurposesChangedMeanwhile as meanwhile:
                theirs = meanwhile.theirs
                given = {ordinal: text for ordinal, text in given.items() if text != shown.get(ordinal)}
                shown = {}  # the page that is shown now is up to date
            else:
                messages.success(request, "Kept, for writers alone." if changed else "Nothing has changed.")
                return lead_on(request, reverse("scene-purposes", args=[member.production.public_id, draft.number]))
    standing = purposes_in(draft)
    purposes, shown = standing | given, standing | shown
    context = {
        "member": member,
        "draft": draft,
        "rows": [
            (each, purposes.get(each.ordinal, ""), shown.get(each.ordinal, ""), theirs.get(each.ordinal))
            for each in scenes
        ],
        "theirs": theirs,
        "too_long": too_long,
        "most": MOST_PURPOSE,
        "kept_key": kept_key(member, "purposes", draft.number),
        "reading": Reading.objects.known_to(member).open().filter(draft=draft).first(),
    }
    status = INVALID if too_long else CONFLICT if theirs else 200
    return render(request, "readings/scene_purposes.html", context, status=status)


def _said(request: Request, name: str, scenes: Iterable[Scene]) -> dict[int, str]:
    """What the form says of scenes in the fields of this name, by the scenes' ordinals."""
    said = {scene.ordinal: request.POST.get(f"{name}-{scene.ordinal}") for scene in scenes}
    return {ordinal: text for ordinal, text in said.items() if text is not None}
