"""Putting up a draft, by a file or by pasted text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.core.exceptions import RequestDataTooBig
from django.shortcuts import redirect, render
from django.views.decorators.csrf import csrf_exempt, csrf_protect
from django.views.decorators.http import require_http_methods

from review.access import Deed, members_who_may
from review.drafts.acts import publish_draft
from review.drafts.forms import DraftForm, OnlyAsMuchAsIsRead

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member

DRAINED_BYTES = 64 * 1024
TOO_LARGE = (
    "That is larger than 4 MiB, the most that is read. Few scripts come near a twentieth of it: see whether something"
    " else came along. What you pasted was not kept here; your browser’s Back button still has it."
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
    filename = filled["file"].name if filled["file"] else ""
    draft, is_new = publish_draft(member, filled["intake"], filled["label"], filled["colour"], filename)
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
    latest = member.production.current_draft
    file = form.files.get("file")
    context = {
        "member": member,
        "form": form,
        "sentence": sentence,
        "chosen": file.name if file else "",
        "latest": latest,
        "next_number": latest.number + 1 if latest else 1,
    }
    return render(request, "drafts/upload.html", context, status=status)
