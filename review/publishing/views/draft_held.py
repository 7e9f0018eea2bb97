"""A text that is held, shown as the draft it would be: its label, its colour, what it answers; then it is put up."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from review.access import Deed
from review.drafts.numbering import NewDraftMeanwhile
from review.making.apart import Wanted, made_apart
from review.notes.then_and_now import NextText
from review.people.guard import members_who_may
from review.publishing.acts import LetGoMeanwhile, let_go, publish_held
from review.publishing.answers import answers_in, questions
from review.publishing.first_look import first_look
from review.publishing.forms import HeldForm
from review.publishing.models import HeldDraft
from review.publishing.views.upload import VERY_TEXT
from review.requests import CONFLICT, INVALID

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.publishing.first_look import FirstLook

MEANWHILE = (
    "Another draft came up, or went, while you looked at this. Nothing of yours is up yet: here is how it stands now."
)
GONE = (
    "Nothing was put up: this text is not held any more. It was let go, or another was chosen in its place. Choose it "
    "again to put it up."
)


def _wanted(request: HttpRequest, member: Member, public_id: str) -> Wanted | None:
    page = reverse("draft-held", args=[member.production.public_id, public_id])
    is_put_up = request.method == "POST" and "let_go" not in request.POST
    return Wanted("Putting up a draft", page) if is_put_up else None


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.PUBLISH)
@made_apart(Deed.PUBLISH, _wanted)
def draft_held(request: HttpRequest, member: Member, public_id: str) -> HttpResponse:
    """Shows what a held text would be, and puts it up; `let_go` drops it instead."""
    held = HeldDraft.objects.of(member).select_related("published_as").filter(public_id=public_id).first()
    if held is None:
        return _is_gone(request, member, public_id)
    if held.published_as is not None:
        return _on_to(member, held.published_as)
    if "let_go" in request.POST:
        if not let_go(member, held):
            return _is_gone(request, member, public_id)
        messages.info(request, "Let go: nothing was put up, and nothing of it is kept here.")
        return redirect("drafts", member.production.public_id)
    following = NextText.of(member.production, held.text)
    look = first_look(member, following)
    if request.method != "POST":
        return _show(request, member, held, look, HeldForm(member.production, look.doubts))
    form = HeldForm(member.production, look.doubts, request.POST)
    if not form.is_valid():
        return _show(request, member, held, look, form, INVALID)
    said = form.cleaned_data
    answers = answers_in(member, request.POST)
    try:
        draft, is_new = publish_held(
            member, held, said["label"], form.chosen_colour, answers, said["seen"], again=said["all_the_same"]
        )
    except NewDraftMeanwhile:
        look = first_look(member, following)
        return _show(request, member, held, look, HeldForm(member.production, look.doubts), CONFLICT, MEANWHILE)
    except LetGoMeanwhile:
        return _is_gone(request, member, public_id)
    if is_new:
        messages.success(request, f"Draft {draft.number} is up. Here is what was read in it.")
    else:
        messages.info(request, VERY_TEXT.format(draft.number))
    return _on_to(member, draft)


def _is_gone(request: HttpRequest, member: Member, public_id: str) -> HttpResponse:
    """To where a text is chosen, for a form that puts up, or lets go, one that is held no longer. Whoever looks for
    one, or for another writer's, finds nothing."""
    if request.method != "POST" or HeldDraft.objects.filter(public_id=public_id).exists():
        raise Http404("No such held draft")
    messages.warning(request, GONE)
    return redirect("draft-upload", member.production.public_id)


def _on_to(member: Member, draft: Draft) -> HttpResponse:
    """To the report of the draft that it became; to the drafts, where that has been withdrawn."""
    if draft.withdrawn_at is not None:
        return redirect("drafts", member.production.public_id)
    return redirect("draft-report", member.production.public_id, draft.number)


def _show(
    request: HttpRequest,
    member: Member,
    held: HeldDraft,
    look: FirstLook,
    form: HeldForm,
    status: int = 200,
    sentence: str = "",
) -> HttpResponse:
    upload = reverse("draft-upload", args=[member.production.public_id])
    context = {
        "member": member,
        "held": held,
        "look": look,
        "form": form,
        "questions": questions(member, NextText.of(member.production, held.text), request.POST),
        "next_number": member.production.drafts.next_number(),
        "sentence": sentence,
        "address": reverse("draft-held", args=[member.production.public_id, held.public_id]),
        "correct": f"{upload}?correct={held.public_id}",
    }
    return render(request, "publishing/draft_held.html", context, status=status)
