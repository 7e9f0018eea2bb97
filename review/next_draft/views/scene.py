"""The screen on which one scene is written: its text, the page it makes, and the notes on it."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.views.decorators.http import require_http_methods, require_POST

from review.access import Deed
from review.characters.rules_in_force import breaches_as_typed
from review.drafts.drawn_pages import draw_rows
from review.next_draft.addressed import closed, not_open, scene_or_404
from review.next_draft.forms import SceneForm, UnsavedSceneForm
from review.next_draft.scenes import NotesOnScene, cards_on, name_of, notes_by_scene
from review.notes.forms import kept_key
from review.people.guard import members_who_may
from review.requests import CONFLICT, INVALID
from review.rewriting import scene_acts
from review.rewriting.models import SceneText, WorkingIsClosed
from review.rewriting.scene_alone import excerpt_as_it_rests, excerpt_as_typed, excerpt_now
from review.rewriting.working_pages import WorkingPages
from screenplay.comparing import word_changes
from screenplay.next_draft import merge

if TYPE_CHECKING:
    from review.characters.rules_in_force import BrokenRule
    from review.people.models import Member
    from review.requests import Request
    from review.rewriting.models import WorkingScene
    from screenplay.comparing import WordChange
    from screenplay.next_draft import SceneExcerpt

NOTHING_NEW = 204
THEIRS, TOGETHER = "theirs", "together"


@dataclass(frozen=True, slots=True)
class Meanwhile:
    """Two texts of one scene: `mine`, which could not be saved, and the one that another saved meanwhile.

    `together` is what the two make of the text that both began with, None where they changed the same lines. `is_own`
    says that the same writer saved the other one, on another page.
    """

    latest: SceneText
    mine: str
    together: str | None
    is_own: bool

    @property
    def changes(self) -> tuple[WordChange, ...]:
        return word_changes(self.latest.text.replace("\r\n", "\n"), self.mine)


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.REWRITE)
def working_scene(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Write one scene. What is typed is saved as it comes; without JavaScript, by the button."""
    scene = scene_or_404(member, public_id)
    if not scene.working.is_open:
        return closed(request, member) if request.method == "POST" else not_open(request, member)
    if request.method != "POST":
        return _show(request, member, scene)
    form = SceneForm(request.POST)
    if not form.is_valid():
        sentence = " ".join(map(str, form.errors.get("text", [])))
        return _show(request, member, scene, mine=request.POST.get("text"), sentence=sentence, status=INVALID)
    said = form.cleaned_data
    try:
        scene = _save(member, scene, said)
    except scene_acts.SavedMeanwhile as told:
        return _meanwhile(request, member, scene, told.latest, said)
    except WorkingIsClosed:
        return closed(request, member)
    if request.htmx:
        return _saved(request, member, scene)
    messages.success(request, "Saved.")
    return redirect("working-scene", member.production.public_id, scene.public_id)


def _save(member: Member, scene: WorkingScene, said: dict[str, Any]) -> WorkingScene:
    """Save as the form says: what was typed, or which of two texts is to stand."""
    text, seen, form_id = said["text"], said["seen"], said["form_id"]
    if said["keep"] == THEIRS:
        return scene_acts.keep_theirs(member, scene, text, form_id)
    if said["keep"] == TOGETHER:
        return scene_acts.save_together(member, scene, text, said["together"], seen, form_id)
    return scene_acts.save_scene(member, scene, text, seen, form_id, as_typed=said["as_typed"])


@require_POST
@members_who_may(Deed.REWRITE)
def working_scene_typed(request: Request, member: Member, public_id: str) -> HttpResponse:
    """What a text that is being typed comes to, stored nowhere. One that `rests` is shown by all that stands around it
    by now, and not at all where that is as it was."""
    scene = scene_or_404(member, public_id)
    form = UnsavedSceneForm(request.POST)
    if not form.is_valid() or not scene.working.is_open:
        return HttpResponse(status=INVALID)
    text = scene.working.as_stored(form.cleaned_data["text"], scene)
    excerpt = excerpt_as_it_rests(scene, text) if form.cleaned_data["rests"] else excerpt_as_typed(scene, text)
    if excerpt is None:
        return HttpResponse(status=NOTHING_NEW)
    return render(request, "next_draft/scene_beside.html", _beside(member, scene, excerpt, text))


@require_POST
@members_who_may(Deed.REWRITE)
def working_take_back(request: Request, member: Member, public_id: str, version: int) -> HttpResponse:
    """Let a scene read as it did in an earlier version."""
    scene = scene_or_404(member, public_id)
    try:
        scene_acts.take_back_text(member, scene, version, uuid.uuid4())
    except SceneText.DoesNotExist:
        raise Http404("The scene never had that text") from None
    except WorkingIsClosed:
        return closed(request, member)
    messages.success(request, "The scene reads as it did then. What it read before is among its earlier texts.")
    return redirect("working-scene", member.production.public_id, scene.public_id)


def _show(
    request: Request,
    member: Member,
    scene: WorkingScene,
    *,
    mine: str | None = None,
    sentence: str = "",
    meanwhile: Meanwhile | None = None,
    status: int = 200,
) -> HttpResponse:
    draft = member.production.drafts.current()
    if draft is None:
        raise Http404("No such scene")
    pages = WorkingPages(scene.working, list(scene.working.scenes.order_by("position", "pk")))
    notes = notes_by_scene(member, pages, draft).get(scene.pk, NotesOnScene())
    accepted, waiting = cards_on(member, notes, draft)
    texts = scene.told_texts()
    text = scene.text if mine is None else mine
    context = _beside(member, scene, excerpt_now(pages, scene), text) | {
        "text": text,
        "latest": texts[0],
        "untouched": scene.ordinal is not None and scene.version == 1,
        "line": _line(request),
        "accepted": accepted,
        "waiting": waiting,
        "earlier": texts[1:],
        "before": _neighbour(pages, scene, -1),
        "after": _neighbour(pages, scene, 1),
        "sentence": sentence,
        "meanwhile": meanwhile,
        "kept_key": kept_key(member, "scene", scene.public_id),
    }
    return render(request, "next_draft/scene.html", context, status=status)


def _saved(request: Request, member: Member, scene: WorkingScene) -> HttpResponse:
    """What a page that stays open wants to know once its words are saved: the scene's page, and the version it has."""
    excerpt = excerpt_as_typed(scene, scene.text)
    return render(request, "next_draft/scene_saved.html", _beside(member, scene, excerpt, scene.text))


def _beside(member: Member, scene: WorkingScene, excerpt: SceneExcerpt, text: str) -> dict[str, Any]:
    first = excerpt.headings[0] if excerpt.headings else None
    return {
        "member": member,
        "working": scene.working,
        "scene": scene,
        "first": first,
        "name": name_of(scene, first.words if first else ""),
        "further": max(len(excerpt.headings) - 1, 0),
        "drawn": [(page.label, draw_rows(page.rows)) for page in excerpt.pages],
        "warnings": excerpt.warnings,
        "breaches": _breaches(scene, text),
    }


def _breaches(scene: WorkingScene, text: str) -> list[BrokenRule]:
    """Where the text of the scene breaks the rules of voices."""
    working = scene.working
    return breaches_as_typed(working.production, working.begun_from, text, scene.ordinal)


def _meanwhile(
    request: Request, member: Member, scene: WorkingScene, latest: SceneText, said: dict[str, Any]
) -> HttpResponse:
    """Both texts, for the writer to choose: nothing is saved, and nothing is lost."""
    base = SceneText.objects.filter(scene=scene, version=said["seen"]).first()
    plain = [text.replace("\r\n", "\n").replace("\r", "\n") for text in (base.text if base else "", latest.text)]
    together = merge(plain[0], said["text"], plain[1]).text
    meanwhile = Meanwhile(latest, said["text"], together, is_own=latest.saved_by_id == member.pk)
    if not request.htmx:
        return _show(request, member, scene, mine=said["text"], meanwhile=meanwhile, status=CONFLICT)
    context = {"member": member, "scene": scene, "meanwhile": meanwhile}
    html = render_to_string("next_draft/scene_conflict.html", context, request)
    response = HttpResponse(html, status=CONFLICT)
    response["HX-Retarget"] = "#meanwhile"
    response["HX-Reswap"] = "innerHTML"
    return response


def _neighbour(pages: WorkingPages, scene: WorkingScene, step: int) -> WorkingScene | None:
    """The scene before or after, of those that are not cut."""
    keys = [other.pk for other in pages.standing]
    if scene.pk not in keys:
        return None
    at = keys.index(scene.pk) + step
    return pages.standing[at] if 0 <= at < len(keys) else None


def _line(request: Request) -> int:
    """The line of the scene that an address asks for, 0 for none."""
    asked = request.GET.get("line", "")
    return int(asked) if asked.isascii() and asked.isdigit() and len(asked) < 7 else 0
