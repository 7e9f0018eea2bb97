"""Bringing notes in from a file of web annotations: what would come in is shown first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from review.access import Deed
from review.exchange.acts import bring_in_notes
from review.exchange.bringing import coming_in
from review.exchange.forms import BringForm
from review.people.guard import members_who_may
from review.requests import INVALID

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.exchange.bringing import Coming
    from review.people.models import Member

SHOWN = 200  # of the notes that would come in


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.BRING_IN)
def notes_in(request: HttpRequest, member: Member) -> HttpResponse:
    if request.method != "POST":
        return _show(request, member, BringForm())
    form = BringForm(request.POST, request.FILES)
    if not form.is_valid():
        return _show(request, member, form, status=INVALID)
    if not form.cleaned_data["sure"]:
        return _show(request, member, form, coming_in(member, form.cleaned_data["read"]))
    came = bring_in_notes(member, form.cleaned_data["read"])
    messages.success(request, f"{in_numbers(came)} came in.")
    return redirect("notes", member.production.public_id)


def in_numbers(coming: Coming) -> str:
    """ "1 note and 2 replies"."""
    notes, replies = len(coming.notes), len(coming.replies)
    told = [f"{notes} note{'' if notes == 1 else 's'}"] if notes or not replies else []
    if replies:
        told.append(f"{replies} repl{'y' if replies == 1 else 'ies'}")
    return " and ".join(told)


def _show(
    request: HttpRequest, member: Member, form: BringForm, coming: Coming | None = None, status: int = 200
) -> HttpResponse:
    context = {
        "member": member,
        "form": form,
        "coming": coming,
        "numbers": in_numbers(coming) if coming else "",
        "shown": coming.notes[:SHOWN] if coming else (),
        "more": max(len(coming.notes) - SHOWN, 0) if coming else 0,
    }
    return render(request, "exchange/notes_in.html", context, status=status)
