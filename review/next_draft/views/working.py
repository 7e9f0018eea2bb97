"""The working draft's own screen: beginning it, its scenes in order, and arranging them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from review.access import Deed, may
from review.cards.accepted import count_accepted
from review.next_draft.addressed import closed, form_id_of, open_or_404, scene_or_404
from review.next_draft.forms import AddForm
from review.next_draft.scenes import FIRST, scene_called, working_scene_rows
from review.people.guard import members_who_may
from review.rewriting import acts, scene_acts
from review.rewriting.models import WorkingDraft, WorkingIsClosed, WorkingScene
from review.rewriting.wording_models import holds_wordings_alone
from review.rewriting.working_pages import WorkingPages
from screenplay import parse
from screenplay.script import headings_of

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request

NO_USUAL_HEADING = (
    "“{}” does not begin as scene headings do, with INT. or EXT., so a dot before it makes it one. If it is no heading,"
    " write the line anew or cut the scene."
)
BEGINNING = "the beginning"


@require_safe
@members_who_may(Deed.REWRITE)
def working(request: Request, member: Member) -> HttpResponse:
    """The scenes of the working draft in order; without one, how to begin it."""
    found = member.production.working_drafts.open_now()
    draft = member.production.drafts.current()
    aside = WorkingDraft.objects.filter(production=member.production, published_as=None).exclude(set_aside_at=None)
    aside = aside.exclude(holds_wordings_alone()).select_related("base", "restored").order_by("-set_aside_at")
    context: dict[str, Any] = {"member": member, "draft": draft, "aside": list(aside)}
    if found is None or draft is None:
        context["number"] = member.production.drafts.next_number()
        return render(request, "next_draft/working_none.html", context)
    pages = WorkingPages(found, list(found.scenes.order_by("position", "pk")))
    rows = working_scene_rows(member, pages, draft)
    context |= {
        "working": found,
        "rows": rows,
        "pages": pages.laid_out,
        "to_do": count_accepted(member),
        "changed": sum(row.is_touched for row in rows),
        "may_publish": may(member, Deed.PUBLISH),
    }
    return render(request, "next_draft/working.html", context)


@require_POST
@members_who_may(Deed.REWRITE)
def working_begin(request: Request, member: Member) -> HttpResponse:
    """Begin the next draft from the current one, or find the one that is open."""
    current = member.production.drafts.current()
    if current is None:
        raise Http404("There is no draft to go on from")
    acts.begin_working(member, current, form_id_of(request))
    return redirect("working", member.production.public_id)


@require_POST
@members_who_may(Deed.REWRITE)
def working_set_aside(request: Request, member: Member) -> HttpResponse:
    found = member.production.working_drafts.open_now()
    if found is not None:
        try:
            acts.set_aside_working(member, found)
        except WorkingIsClosed:
            messages.error(request, "The working draft has been put up meanwhile: it is a draft of its own now.")
            return redirect("working", member.production.public_id)
        messages.success(request, "The working draft is set aside with every word in it. It can be taken up again.")
    return redirect("working", member.production.public_id)


@require_POST
@members_who_may(Deed.REWRITE)
def working_add(request: Request, member: Member) -> HttpResponse:
    """Add a scene by its heading, and go on to write it."""
    found = open_or_404(member)
    form = AddForm(request.POST)
    if not form.is_valid():
        messages.error(request, "Give the new scene a heading, such as INT. KITCHEN - NIGHT.")
        return redirect("working", member.production.public_id)
    after = form.cleaned_data["after"]
    behind = scene_or_404(member, after) if after and after != FIRST else None
    heading = " ".join(form.cleaned_data["heading"].split())
    text = heading_text(heading)
    try:
        scene = scene_acts.add_scene(member, found, behind, text, form.cleaned_data["form_id"])
    except WorkingIsClosed:
        return closed(request, member)
    if not text.startswith(heading):
        messages.warning(request, NO_USUAL_HEADING.format(heading))
    return redirect("working-scene", member.production.public_id, scene.public_id)


@require_POST
@members_who_may(Deed.REWRITE)
def working_cut(request: Request, member: Member, public_id: str) -> HttpResponse:
    scene = scene_or_404(member, public_id)
    try:
        scene_acts.cut_scene(member, scene)
    except WorkingIsClosed:
        return closed(request, member)
    if scene.ordinal == 0:
        messages.error(request, "What stands before the first scene is not cut as one; empty it instead.")
        return _back_to(member, scene)
    messages.success(request, "The scene is cut. Its words are kept here, and it can be put back where it stood.")
    return _back_to(member, scene)


@require_POST
@members_who_may(Deed.REWRITE)
def working_restore(request: Request, member: Member, public_id: str) -> HttpResponse:
    scene = scene_or_404(member, public_id)
    try:
        scene_acts.restore_scene(member, scene)
    except WorkingIsClosed:
        return closed(request, member)
    messages.success(request, "The scene is back where it stood.")
    return _back_to(member, scene)


@require_POST
@members_who_may(Deed.REWRITE)
def working_move(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Put a scene behind another: the one whose key is `after`, or the one that is called `behind`."""
    scene = scene_or_404(member, public_id)
    called = request.POST.get("behind", "")
    behind = _called(member, scene.working, called) if called else _keyed(member, scene.working, request)
    if called and called.strip() != BEGINNING and behind is None:
        messages.error(request, f"No scene is called “{called}”, or more than one is. Choose one from the list.")
        return _back_to(member, scene)
    try:
        scene_acts.move_scene(member, scene, behind)
    except WorkingIsClosed:
        return closed(request, member)
    return _back_to(member, scene)


def _keyed(member: Member, working: WorkingDraft, request: Request) -> WorkingScene | None:
    """The scene whose key a form names, None for the beginning."""
    after = request.POST.get("after", "")
    if after == FIRST:
        return None
    behind = scene_or_404(member, after)
    if behind.working_id != working.pk:
        raise Http404("No such scene")
    return behind


def _called(member: Member, working: WorkingDraft, label: str) -> WorkingScene | None:
    draft = member.production.drafts.current()
    if draft is None or label.strip() == BEGINNING:
        return None
    return scene_called(working_scene_rows(member, WorkingPages(working, list(working.scenes.all())), draft), label)


def heading_text(heading: str) -> str:
    """A heading as a line of the script. One that the standard would not take for a heading is forced with a dot."""
    line = " ".join(heading.split())
    if not headings_of(parse(f"{line}\n\n")):
        line = f".{line}"
    return f"{line}\n\n"


def _back_to(member: Member, scene: WorkingScene) -> HttpResponse:
    return redirect(f"{reverse('working', args=[member.production.public_id])}#scene-{scene.public_id}")
