"""A character's part, for whoever plays them: all their speeches in order, each with its scene and the line before
it, and the scenes in which they say nothing."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from django.http import Http404
from django.shortcuts import render
from django.views.decorators.http import require_safe

from review.access import Deed
from review.drafts.at_address import draft_or_404
from review.drafts.scripts import laid_out
from review.people.guard import members_who_may
from screenplay.fountain import same_name
from screenplay.speech import part_speeches, silent_scenes

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member


@require_safe
@members_who_may(Deed.READ)
def voice_part(request: HttpRequest, member: Member, number: int, character: str) -> HttpResponse:
    draft = draft_or_404(member, number)
    pages = laid_out(draft)
    character = draft.production.names.name_of(character)
    speeches = part_speeches(pages.script, character)
    if not speeches:
        raise Http404("Nobody of the name speaks")
    silent = silent_scenes(pages.script, character)
    said = {ordinal: list(these) for ordinal, these in groupby(speeches, key=lambda one: one.scene)}
    scenes = {scene.ordinal: scene for scene in pages.scenes}
    by_scene = [(scenes.get(ordinal), said.get(ordinal, [])) for ordinal in sorted({*said, *silent})]
    name = next(one.name for one in pages.characters if same_name(one.name) == same_name(character))
    told = {"name": name, "scenes": by_scene, "speeches": len(speeches), "silent": len(silent)}
    context = {"member": member, "draft": draft} | told
    return render(request, "voices/voice_part.html", context)
