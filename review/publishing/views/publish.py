"""The screen on which a working draft is published: its label and colour, and which accepted notes it answers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from review.access import Deed
from review.drafts.texts import hash_text
from review.making.apart import Wanted, made_apart
from review.people.guard import members_who_may
from review.publishing.acts import NothingNew, TextChangedMeanwhile, following_text, publish_working
from review.publishing.answers import answers_in, questions
from review.publishing.first_look import first_look
from review.publishing.forms import PublishForm
from review.requests import CONFLICT, INVALID
from review.rewriting.models import WorkingDraft, WorkingIsClosed
from screenplay.intake import Unreadable

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.requests import Request

CHANGED = "The working draft was changed since this page was opened, so nothing is up yet. Here is what it reads now."


def _wanted(request: Request, member: Member) -> Wanted | None:
    page = reverse("working-publish", args=[member.production.public_id])
    return Wanted("Putting up the next draft", page) if request.method == "POST" else None


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.PUBLISH)
@made_apart(Deed.PUBLISH, _wanted)
def working_publish(request: Request, member: Member) -> HttpResponse:
    """Ask which accepted notes the working draft answers, and publish it."""
    working = _working(request, member)
    if working is None:
        messages.info(request, "No working draft is open, so there is nothing to put up here.")
        return redirect("working", member.production.public_id)
    if request.method != "POST":
        return _ask(request, member, working, PublishForm(member.production, working))
    form = PublishForm(member.production, working, request.POST)
    if not form.is_valid():
        return _ask(request, member, working, form, status=INVALID)
    said = form.cleaned_data
    answers = answers_in(member, request.POST)
    try:
        draft = publish_working(member, working, said["label"], form.chosen_colour, answers, said["seen"])
    except TextChangedMeanwhile:
        return _ask(request, member, working, form, status=CONFLICT, sentence=CHANGED)
    except NothingNew as told:
        return _nothing_new(request, member, told.draft, status=CONFLICT)
    except WorkingIsClosed:
        messages.error(request, "This working draft was set aside meanwhile, so nothing is up.")
        return redirect("working", member.production.public_id)
    except Unreadable as refusal:
        return _ask(request, member, working, form, status=INVALID, sentence=str(refusal))
    messages.success(request, f"Draft {draft.number} is up. Here is what was read in it.")
    return redirect("draft-report", member.production.public_id, draft.number)


def _working(request: Request, member: Member) -> WorkingDraft | None:
    """The working draft that a form names, be it closed by now; else the open one."""
    named = request.POST.get("working", "")
    found = WorkingDraft.objects.filter(production=member.production, public_id=named).first() if named else None
    return found or member.production.working_drafts.open_now()


def _ask(
    request: Request, member: Member, working: WorkingDraft, form: PublishForm, status: int = 200, sentence: str = ""
) -> HttpResponse:
    text = working.joined_text()
    latest = member.production.drafts.current()
    if latest is not None and member.production.drafts.standing().with_text(text) == latest:
        return _nothing_new(request, member, latest, status=status)
    following = following_text(member, working)
    context = {
        "member": member,
        "questions": questions(member, following, request.POST),
        "look": first_look(member, following),
        "next_number": member.production.drafts.next_number(),
        "sentence": sentence,
        "form": form,
        "seen": hash_text(text),
        "working": working,
        "address": reverse("working-publish", args=[member.production.public_id]),
        "back": reverse("working", args=[member.production.public_id]),
    }
    return render(request, "publishing/publish.html", context, status=status)


def _nothing_new(request: Request, member: Member, latest: Draft, status: int) -> HttpResponse:
    """Instead of the questions, for a working draft that reads as the current draft does."""
    return render(request, "publishing/nothing_new.html", {"member": member, "latest": latest}, status=status)
