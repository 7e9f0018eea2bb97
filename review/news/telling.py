"""The answer to an open page that asks what is new: nothing new, in 304, or what happened, as its script reads it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import HttpResponse, JsonResponse
from django.utils.cache import get_conditional_response

from review.news.forms import NewsForm
from review.news.happened import news_for
from review.news.present import names_at
from review.news.short_way import Inquiry, remember
from review.readers.models import Reader
from review.requests import INVALID

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from review.people.models import Member
    from review.requests import Request


def tell_news(
    request: Request, member: Member, of_notes: Callable[[Sequence[str]], dict[str, object]] | None = None
) -> HttpResponse:
    """What happened since `since` that the member may know of, and who is at the page in view; 304 without a body where
    that is what they have been told. Where nothing has happened at all, the request does not come as far as here.

    `of_notes` says more of the notes, by their public ids, on which others have said something since the act `after`.
    """
    form = NewsForm(request.GET)
    if not form.is_valid():
        return HttpResponse("This page asks for what is new in a way that is not known here.", status=INVALID)
    asked = Inquiry.by(request, member, form.moment, form.page)
    reads_alone = Reader.objects.alone_as(member).exists()
    here = names_at(form.page, member) if form.page and not reads_alone else ()
    found = news_for(member, form.moment, asked.acts, here, reads_alone=reads_alone)
    etag = found.etag
    remember(request, member, asked, etag)
    if (nothing_new := get_conditional_response(request, etag=etag)) is not None:
        nothing_new["ETag"] = etag
        return nothing_new
    told = found.told_to(member.person_id, form.next_since)
    if of_notes is not None:
        told |= of_notes(found.notes_of_others(member.person_id, form.cleaned_data["after"]))
    return JsonResponse(told, headers={"ETag": etag})
