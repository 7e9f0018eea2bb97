"""The notes on a draft as files to take away.

The files answer GET alone: the log keeps each one taken, and whoever asks for headers takes none.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_safe

from review.access import Deed, may
from review.comma_separated import CSV as CSV_TYPE
from review.downloads import PDF as PDF_TYPE
from review.downloads import download
from review.drafts.at_address import draft_or_404
from review.exchange.acts import CSV, FOUNTAIN, JSON, PDF, take_notes
from review.exchange.annotations import JSON_LD
from review.exchange.forms import TakeForm, narrowing_of
from review.exchange.taken_notes import narrowed_notes
from review.making.apart import Wanted, made_apart
from review.people.guard import members_who_may

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member

PLAIN_TEXT = "text/plain; charset=utf-8"
ENDINGS = {CSV: "csv", FOUNTAIN: "fountain", JSON: "jsonld", PDF: "pdf"}


@require_safe
@members_who_may(Deed.READ)
def notes_out(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    """Where it is come to from Notes, its address narrows the notes down as they were there."""
    draft = draft_or_404(member, number)
    narrowing = narrowing_of(request.GET)
    shown = narrowed_notes(member, draft, narrowing) if narrowing else None
    context = {
        "member": member,
        "draft": draft,
        "drafts": list(member.production.drafts.standing().defer("text")),
        "form": TakeForm(narrowing=narrowing, shown=shown),
        "takes_source": may(member, Deed.PUBLISH),
    }
    return render(request, "exchange/notes_out.html", context)


@require_GET
@members_who_may(Deed.READ)
def notes_csv(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    return _file(request, member, number, CSV, CSV_TYPE)


@require_GET
@members_who_may(Deed.PUBLISH)
def notes_fountain(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    return _file(request, member, number, FOUNTAIN, PLAIN_TEXT)


def _notes_to_print(request: HttpRequest, member: Member, number: int) -> Wanted:
    draft = draft_or_404(member, number)
    page = reverse("notes-out", args=[draft.production.public_id, draft.number])
    return Wanted(f"The notes on draft {draft.number} as a PDF", page)


@require_GET
@members_who_may(Deed.READ)
@made_apart(Deed.READ, _notes_to_print)
def notes_pdf(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    return _file(request, member, number, PDF, PDF_TYPE)


@require_GET
@members_who_may(Deed.READ)
def notes_json(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    return _file(request, member, number, JSON, JSON_LD)


def _file(request: HttpRequest, member: Member, number: int, form: str, content_type: str) -> HttpResponse:
    draft = draft_or_404(member, number)
    choice = TakeForm(request.GET, narrowing_of(request.GET)).choice
    more = "notes, the writer’s too" if choice.for_writers_too else "notes"
    file = take_notes(member, draft, form, choice)
    return download(file, draft.file_name(ENDINGS[form], more), content_type)
