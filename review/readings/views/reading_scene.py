"""A reading's scenes, one by one: the pages of a scene, and at its end what the reader says of it."""

from __future__ import annotations

import json
from functools import partial
from typing import TYPE_CHECKING

from django.contrib import messages
from django.http import Http404, HttpResponse, HttpResponseBadRequest
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe
from django_htmx.http import HttpResponseClientRedirect

from review.access import Deed
from review.people.acts import Refused
from review.people.guard import members_who_may
from review.readings import reader_acts
from review.readings.finding import reader_or_404
from review.readings.forms import ClarityForm
from review.readings.models import ClarityWord
from review.readings.progress import reader_progress
from review.readings.scene_ends import scene_ends
from review.readings.scene_pages import scene_pages
from review.requests import CONFLICT, INVALID

if TYPE_CHECKING:
    from collections.abc import Callable

    from review.people.models import Member
    from review.readings.progress import ReaderProgress, SceneLine
    from review.readings.scene_ends import SceneEnd
    from review.requests import Request

MOST_REPORTED = 400  # scenes in one report
MEANINGS = {
    ClarityWord.CLEAR: "I followed it",
    ClarityWord.LOST: "I lost the thread",
    ClarityWord.SLOW: "It took too long",
}


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.NOTE)
def reading_scene(request: Request, member: Member, public_id: str, ordinal: int) -> HttpResponse:
    """A scene's pages, and the mark that its form gives, which leads on to the next scene."""
    progress = reader_progress(reader_or_404(member, public_id))
    line = _scene_or_404(progress, ordinal)
    if request.method != "POST":
        return _show(request, member, progress, line)
    if "take_back" in request.POST:
        return _done(request, progress, ordinal, partial(reader_acts.take_back_mark, member, progress.reading, ordinal))
    form = ClarityForm(request.POST)
    if not form.is_valid():
        return _show(request, member, progress, line, form, INVALID)
    said = form.cleaned_data
    try:
        reader_acts.mark_scene(member, progress.reading, ordinal, said["mark"], said["why"])
    except Refused as refusal:
        return _not_kept(request, member, public_id, ordinal, said["why"], str(refusal))
    if request.htmx:
        return _marked_in_script(request, member, public_id, ordinal)
    address = (member.production.public_id, public_id)
    return (
        redirect("reading-scene", *address, ordinal + 1) if ordinal < progress.total else redirect("reading", *address)
    )


@require_safe
@members_who_may(Deed.NOTE)
def reading_ends(request: Request, member: Member, public_id: str) -> HttpResponse:
    """The ends of all scenes, which the script asks for and puts where they belong; none where nothing more is said."""
    progress = reader_progress(reader_or_404(member, public_id))
    return _show_ends(request, member, progress, scene_ends(progress) if progress.is_open else [])


def _not_kept(request: Request, member: Member, public_id: str, ordinal: int, why: str, sentence: str) -> HttpResponse:
    """Why a mark was refused, with the words that came with it, which can be left as a note."""
    if not why:
        messages.error(request, sentence)
        address = reverse("reading", args=[member.production.public_id, public_id])
        return HttpResponseClientRedirect(address) if request.htmx else redirect(address)
    progress = reader_progress(reader_or_404(member, public_id))
    line = progress.scenes[ordinal - 1]
    if not request.htmx:
        return _show(request, member, progress, line, status=CONFLICT, not_kept=why, sentence=sentence)
    context = {"member": member, "draft": progress.reading.draft, "line": line, "not_kept": why, "sentence": sentence}
    return render(request, "readings/mark_not_kept.html", context, status=CONFLICT)


def _marked_in_script(request: Request, member: Member, public_id: str, ordinal: int) -> HttpResponse:
    """The end of a scene on the script, with the mark that was given there just now."""
    progress = reader_progress(reader_or_404(member, public_id))
    return _show_ends(request, member, progress, [scene_ends(progress)[ordinal - 1]])


def _show_ends(request: Request, member: Member, progress: ReaderProgress, ends: list[SceneEnd]) -> HttpResponse:
    context = {"member": member, "reading": progress.reading, "ends": ends, "marks": ClarityWord.choices}
    return render(request, "readings/scene_ends.html", context)


@require_POST
@members_who_may(Deed.NOTE)
def reading_read(request: Request, member: Member, public_id: str, ordinal: int) -> HttpResponse:
    """Says by hand that a scene was read, or with `unread` that it was not."""
    progress = reader_progress(reader_or_404(member, public_id))
    _scene_or_404(progress, ordinal)
    act = partial(reader_acts.say_read, member, progress.reading, ordinal, is_read="unread" not in request.POST)
    return _done(request, progress, ordinal, act, is_list=True)


@require_POST
@members_who_may(Deed.NOTE)
def reading_progress(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Takes what the screen reports: `seconds`, a JSON object of the seconds that scenes were on it, by ordinal."""
    reader = reader_or_404(member, public_id)
    try:
        seconds = _seconds(request.POST.get("seconds", ""))
    except (ValueError, RecursionError):  # the latter of JSON that is nested a thousand times
        return HttpResponseBadRequest("The seconds of scenes are wanted, by their ordinals, as JSON.")
    reader_acts.report_progress(member, reader.reading, seconds)
    return HttpResponse(status=204)


def _done(
    request: Request,
    progress: ReaderProgress,
    ordinal: int,
    act: Callable[[], object],
    *,
    is_list: bool = False,
) -> HttpResponse:
    """Do it, or say why it was not done; then back to the list, or back to the scene."""
    address = (progress.reader.member.production.public_id, progress.reading.public_id)
    try:
        act()
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("reading", *address)
    if is_list:
        return redirect(f"{reverse('reading', args=address)}#scene-{ordinal}")
    return redirect("reading-scene", *address, ordinal)


def _seconds(said: str) -> dict[int, int]:
    told = json.loads(said)
    if not isinstance(told, dict) or len(told) > MOST_REPORTED:
        raise ValueError(said)
    if not all(isinstance(took, int) and not isinstance(took, bool) for took in told.values()):
        raise ValueError(said)
    return {int(scene): took for scene, took in told.items()}


def _scene_or_404(progress: ReaderProgress, ordinal: int) -> SceneLine:
    if not 1 <= ordinal <= progress.total:
        raise Http404("No such scene")
    return progress.scenes[ordinal - 1]


def _show(
    request: Request,
    member: Member,
    progress: ReaderProgress,
    line: SceneLine,
    form: ClarityForm | None = None,
    status: int = 200,
    not_kept: str = "",
    sentence: str = "",
) -> HttpResponse:
    ordinal = line.scene.ordinal
    context = {
        "member": member,
        "reading": progress.reading,
        "progress": progress,
        "draft": progress.reading.draft,
        "line": line,
        "pages": scene_pages(progress.reading.draft, line.scene),
        "form": form or ClarityForm(),
        "why": form["why"].value() if form else line.mark.why if line.mark else "",
        "marks": [(mark, mark.label, MEANINGS[mark]) for mark in ClarityWord],
        "before": progress.scenes[ordinal - 2] if ordinal > 1 else None,
        "after": progress.scenes[ordinal] if ordinal < progress.total else None,
        "not_kept": not_kept,
        "sentence": sentence,
    }
    return render(request, "readings/reading_scene.html", context, status=status)
