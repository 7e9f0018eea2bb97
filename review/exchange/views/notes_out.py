"""The notes on a draft as files to take away.

The files answer GET alone: the log keeps each one taken, and whoever asks for headers takes none.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import render
from django.views.decorators.http import require_GET, require_safe

from review.access import Deed, may
from review.comma_separated import CSV as CSV_TYPE
from review.downloads import download
from review.drafts.at_address import draft_or_404
from review.exchange.acts import CSV, FOUNTAIN, JSON, take_notes
from review.exchange.annotations import JSON_LD
from review.exchange.forms import TakeForm
from review.people.guard import members_who_may

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member

PLAIN_TEXT = "text/plain; charset=utf-8"
ENDINGS = {CSV: "csv", FOUNTAIN: "fountain", JSON: "jsonld"}


@require_safe
@members_who_may(Deed.READ)
def notes_out(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    draft = draft_or_404(member, number)
    context = {
        "member": member,
        "draft": draft,
        "drafts": list(member.production.drafts.standing().defer("text")),
        "form": TakeForm(),
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


@require_GET
@members_who_may(Deed.READ)
def notes_json(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    return _file(request, member, number, JSON, JSON_LD)


def _file(request: HttpRequest, member: Member, number: int, form: str, content_type: str) -> HttpResponse:
    draft = draft_or_404(member, number)
    choice = TakeForm(request.GET).choice
    more = "notes, the writer’s too" if choice.for_writers_too else "notes"
    file = take_notes(member, draft, form, choice)
    return download(file, draft.file_name(ENDINGS[form], more), content_type)
