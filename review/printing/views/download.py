"""A draft as a file with no name across it: as it came in, as plain text, and as a web page. For writers alone.

The source is theirs since it holds what no page shows; the others, since nothing in them says who took them. These
answer GET alone: the log keeps each copy taken, and whoever asks for headers takes none.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import HttpResponse
from django.views.decorators.http import require_GET

from review.access import Deed
from review.downloads import download
from review.drafts.at_address import draft_or_404
from review.people.guard import members_who_may
from review.printing.acts import take_source, take_text, take_web_page
from review.printing.forms import NumbersForm, PaperSizeForm
from review.requests import INVALID

if TYPE_CHECKING:
    from django.http import HttpRequest

    from review.people.models import Member


@require_GET
@members_who_may(Deed.PUBLISH)
def draft_download(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    draft = draft_or_404(member, number, withdrawn_too=True)
    return download(take_source(member, draft), draft.filename or draft.file_name("fountain"), "text/plain")


@require_GET
@members_who_may(Deed.PUBLISH)
def draft_text(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    draft = draft_or_404(member, number, withdrawn_too=True)
    form = PaperSizeForm(request.GET, draft=draft)
    if not form.is_valid():
        sentence = form.errors["paper"][0] if form.one_paper else "There is no such paper."
        return HttpResponse(sentence, status=INVALID, content_type="text/plain; charset=utf-8")
    told = form.cleaned_data
    text = take_text(member, draft, told["paper"], scene_numbers=told["scene_numbers"])
    return download(text, draft.file_name("txt"), "text/plain; charset=utf-8")


@require_GET
@members_who_may(Deed.PUBLISH)
def draft_html(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    draft = draft_or_404(member, number, withdrawn_too=True)
    form = NumbersForm(request.GET, draft=draft)
    form.is_valid()  # a box is ticked or not, whatever is sent
    page = take_web_page(member, draft, scene_numbers=form.cleaned_data["scene_numbers"])
    return download(page, draft.file_name("html"), "text/html; charset=utf-8")
