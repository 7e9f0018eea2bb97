"""Choosing a script, by a file or by pasted text: it is read, and held for its writer to see before it goes up."""

from __future__ import annotations

from http import HTTPStatus
from typing import TYPE_CHECKING

from django.contrib import messages
from django.core.exceptions import RequestDataTooBig
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.csrf import csrf_exempt, csrf_protect
from django.views.decorators.http import require_http_methods

from review.access import Deed
from review.notes.forms import kept_key
from review.people.guard import members_who_may
from review.publishing.acts import hold_draft
from review.publishing.forms import DraftForm, OnlyAsMuchAsIsRead
from review.publishing.models import HeldDraft
from review.requests import INVALID, lead_on

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request

VERY_TEXT = "This is the very text of draft {}, so nothing new was stored."
DRAINED_BYTES = 64 * 1024
TOO_LARGE = (
    "That is larger than 4 MiB, the most that is read. Few scripts come near a twentieth of it: see whether something"
    " else came along. What you pasted was not kept here; your browser’s Back button may still have it."
)


@csrf_exempt  # the guard stands at `_draft_upload`: it reads the form, and a form too large to read is answered before
@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.PUBLISH)
def draft_upload(request: Request, member: Member) -> HttpResponse:
    request.upload_handlers.insert(0, OnlyAsMuchAsIsRead(request))
    try:
        request.POST  # noqa: B018 - asking for it reads the form
    except RequestDataTooBig:
        return _too_large(request, member)
    return _draft_upload(request, member)


@csrf_protect
def _draft_upload(request: Request, member: Member) -> HttpResponse:
    if request.method != "POST":
        return _show(request, member, _to_correct(request, member) or DraftForm())
    form = DraftForm(request.POST, request.FILES)
    if not form.is_valid():
        return _show(request, member, form, status=INVALID)
    intake = form.cleaned_data["intake"]
    current = member.production.drafts.current()
    if current is not None and member.production.drafts.standing().with_text(intake.text) == current:
        messages.info(request, VERY_TEXT.format(current.number))
        return lead_on(request, reverse("draft-report", args=[member.production.public_id, current.number]))
    held = hold_draft(member, intake, form.filename)
    return lead_on(request, reverse("draft-held", args=[member.production.public_id, held.public_id]))


def _to_correct(request: Request, member: Member) -> DraftForm | None:
    """The form with the text that the address names, while it is held for this writer."""
    named = request.GET.get("correct", "")
    held = HeldDraft.objects.of(member).waiting().filter(public_id=named).first() if named else None
    return DraftForm.to_correct(held) if held else None


def _too_large(request: Request, member: Member) -> HttpResponse:
    """The form again, empty, for a post larger than the server takes in; the rest of it is received and dropped. What
    a script sent keeps its form, with what was pasted in it, and says by the status what is wrong."""
    while request.read(DRAINED_BYTES):
        pass
    status = HTTPStatus.REQUEST_ENTITY_TOO_LARGE if request.htmx else INVALID
    return _show(request, member, DraftForm(), status=status, sentence=TOO_LARGE)


def _show(request: Request, member: Member, form: DraftForm, status: int = 200, sentence: str = "") -> HttpResponse:
    latest = member.production.drafts.current()
    file = form.files.get("file")
    context = {
        "member": member,
        "address": request.get_full_path(),
        "kept_key": kept_key(member, "upload", request.GET.get("correct", "")),
        "form": form,
        "sentence": sentence,
        "chosen": file.name if file else "",
        "latest": latest,
        "held": HeldDraft.objects.of(member).waiting().first(),
        "next_number": member.production.drafts.next_number(),
    }
    return render(request, "publishing/upload.html", context, status=status)
