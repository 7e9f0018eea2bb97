"""The words that departments marked, where they stand, and words that may want a mark."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from review.access import Deed, may
from review.drafts.at_address import draft_or_404
from review.people.guard import members_who_may
from review.requests import INVALID
from review.scenes.acts import mark_word, unmark_word
from review.scenes.breakdown import scene_rows
from review.scenes.forms import MarkedWordForm
from review.scenes.marked import scenes_with, standing_words, suggested_words

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.requests import Request


@require_safe
@members_who_may(Deed.READ)
def marked_words(request: Request, member: Member, number: int) -> HttpResponse:
    """Lists the marked words of a draft."""
    return _show(request, member, draft_or_404(member, number), _form(request, member))


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.MARK)
def marked_word_new(request: Request, member: Member, number: int) -> HttpResponse:
    """Mark a word. The script's page asks for the form alone, with the words that were chosen there."""
    draft = draft_or_404(member, number)
    form = MarkedWordForm(request.POST) if request.method == "POST" else _form(request, member)
    show = _show_form if request.htmx else _show
    if not form.is_bound:
        return show(request, member, draft, form)
    if not form.is_valid():
        return show(request, member, draft, form, INVALID)
    said = form.cleaned_data
    marked = mark_word(member, said["words"], said["department"], said["form_id"])
    if request.htmx:
        context = {"member": member, "draft": draft, "marked": marked, "scenes": scenes_with(draft, marked)}
        return render(request, "scenes/marked_word_form.html", context)
    messages.success(request, f"“{marked.words}” is known from now on, wherever it stands.")
    return redirect("scenes-marked-words", member.production.public_id, number)


@require_POST
@members_who_may(Deed.MARK)
def marked_word_withdraw(request: HttpRequest, member: Member, public_id: str) -> HttpResponse:
    """Take a marked word back."""
    marked = get_object_or_404(member.production.marked_words, public_id=public_id)
    unmark_word(member, marked)
    messages.success(request, f"“{marked.words}” is marked no more.")
    current = member.production.drafts.current()
    if current is None:
        return redirect("scenes-current", member.production.public_id)
    return redirect("scenes-marked-words", member.production.public_id, current.number)


def _form(request: Request, member: Member) -> MarkedWordForm:
    """The form with the words that the address names, for the member's own department."""
    words = request.GET.get("words", "")
    return MarkedWordForm(initial={"form_id": uuid.uuid4(), "department": member.department, "words": words})


def _show_form(request: Request, member: Member, draft: Draft, form: MarkedWordForm, status: int = 200) -> HttpResponse:
    return render(
        request, "scenes/marked_word_form.html", {"member": member, "draft": draft, "form": form}, status=status
    )


def _show(request: Request, member: Member, draft: Draft, form: MarkedWordForm, status: int = 200) -> HttpResponse:
    rows = scene_rows(member, draft)
    context = {
        "member": member,
        "draft": draft,
        "words": standing_words(draft, rows),
        "suggestions": suggested_words(draft, rows),
        "form": form,
        "may_mark": may(member, Deed.MARK),
    }
    return render(request, "scenes/marked_words.html", context, status=status)
