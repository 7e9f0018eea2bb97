"""What an open page asks every few seconds: whether anything is new, and what."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import HttpResponse, JsonResponse
from django.utils.cache import get_conditional_response
from django.views.decorators.http import require_safe

from review.access import Deed
from review.news.forms import NewsForm
from review.news.happened import news_for
from review.news.present import names_at
from review.news.short_way import Inquiry, remember
from review.people.guard import members_who_may
from review.readers.models import Reader
from review.requests import INVALID

if TYPE_CHECKING:
    from review.people.models import Member
    from review.requests import Request


@require_safe
@members_who_may(Deed.READ)
def news(request: Request, member: Member) -> HttpResponse:
    """What happened since `since` that the member may know of, and who is at the page in view; 304 without a body where
    that is what they have been told. Where nothing has happened at all, the request does not come as far as here."""
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
    return JsonResponse(found.told_to(member.person_id, form.next_since), headers={"ETag": etag})
