"""Putting up a draft, by a file or by pasted text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.core.exceptions import RequestDataTooBig
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.csrf import csrf_exempt, csrf_protect
from django.views.decorators.http import require_http_methods, require_POST

from review.access import Deed
from review.notes.then_and_now import NextText
from review.people.guard import members_who_may
from review.publishing.acts import publish_draft
from review.publishing.answers import answers_in, questions
from review.publishing.forms import DraftForm, OnlyAsMuchAsIsRead
from review.publishing.held_upload import HeldUpload, NotHeld, unsealed

if TYPE_CHECKING:
    from collections.abc import Mapping

    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member
    from review.publishing.answers import Question

DRAINED_BYTES = 64 * 1024
TOO_LARGE = (
    "That is larger than 4 MiB, the most that is read. Few scripts come near a twentieth of it: see whether something"
    " else came along. What you pasted was not kept here; your browser’s Back button may still have it."
)


@csrf_exempt  # the guard stands at `_draft_upload`: it reads the form, and a form too large to read is answered before
@require_http_methods(["GET", "POST"])
@members_who_may(Deed.PUBLISH)
def draft_upload(request: HttpRequest, member: Member) -> HttpResponse:
    request.upload_handlers.insert(0, OnlyAsMuchAsIsRead(request))
    try:
        request.POST  # noqa: B018 - asking for it reads the form
    except RequestDataTooBig:
        return _too_large(request, member)
    return _draft_upload(request, member)


@csrf_protect
def _draft_upload(request: HttpRequest, member: Member) -> HttpResponse:
    if request.method == "GET":
        return _show(request, member, _empty_form(member))
    form = DraftForm(member.production, request.POST, request.FILES)
    if not form.is_valid():
        return _show(request, member, form, status=422)
    filled = form.cleaned_data
    held = HeldUpload(filled["intake"], filled["label"], filled["colour"], form.filename, again=filled["all_the_same"])
    if asked := _questions(member, held):
        return _ask(request, member, held, asked)
    return _put_up(request, member, held, {})


@require_POST
@members_who_may(Deed.PUBLISH)
def draft_answers(request: HttpRequest, member: Member) -> HttpResponse:
    """Puts up the draft that was held while its writer was asked which accepted notes it answers."""
    try:
        held = unsealed(member, request.POST.get("held", ""))
    except NotHeld:
        messages.error(request, "The draft was not held here any longer, so nothing is up. Choose it again.")
        return redirect("draft-upload", member.production.public_id)
    return _put_up(request, member, held, answers_in(member, request.POST))


def _questions(member: Member, held: HeldUpload) -> list[Question]:
    """What is to be asked before it goes up; nothing of a text that will not be stored."""
    same = member.production.drafts.standing().with_text(held.intake.text)
    is_here = same is not None and (same == member.production.drafts.current() or not held.again)
    return [] if is_here else questions(member, NextText.of(member.production, held.intake.text))


def _ask(request: HttpRequest, member: Member, held: HeldUpload, asked: list[Question]) -> HttpResponse:
    context = {
        "member": member,
        "questions": asked,
        "next_number": member.production.drafts.next_number(),
        "held": held.sealed(member),
        "address": reverse("draft-upload-answers", args=[member.production.public_id]),
        "back": reverse("draft-upload", args=[member.production.public_id]),
    }
    return render(request, "publishing/publish.html", context)


def _put_up(request: HttpRequest, member: Member, held: HeldUpload, answers: Mapping[int, bool]) -> HttpResponse:
    draft, is_new = publish_draft(
        member, held.intake, held.label, held.colour, held.filename, answers, again=held.again
    )
    if is_new:
        messages.success(request, f"Draft {draft.number} is up. Here is what was read in it.")
    else:
        messages.info(request, f"This is the very text of draft {draft.number}, so nothing new was stored.")
    return redirect("draft-report", member.production.public_id, draft.number)


def _empty_form(member: Member) -> DraftForm:
    return DraftForm(member.production)


def _too_large(request: HttpRequest, member: Member) -> HttpResponse:
    """The form again, empty, for a post larger than the server takes in; the rest of it is received and dropped."""
    while request.read(DRAINED_BYTES):
        pass
    return _show(request, member, _empty_form(member), status=422, sentence=TOO_LARGE)


def _show(request: HttpRequest, member: Member, form: DraftForm, status: int = 200, sentence: str = "") -> HttpResponse:
    latest = member.production.drafts.current()
    file = form.files.get("file")
    context = {
        "member": member,
        "form": form,
        "sentence": sentence,
        "chosen": file.name if file else "",
        "latest": latest,
        "next_number": member.production.drafts.next_number(),
    }
    return render(request, "publishing/upload.html", context, status=status)
