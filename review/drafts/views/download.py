"""A draft as it came in, byte for byte: for writers, since it holds what no page shows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import HttpResponse
from django.shortcuts import get_object_or_404
from django.utils.http import content_disposition_header
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from review.access import Deed, members_who_may

if TYPE_CHECKING:
    from django.http import HttpRequest

    from review.drafts.models import Draft
    from review.people.models import Member


@require_safe
@members_who_may(Deed.PUBLISH)
def draft_download(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    draft = get_object_or_404(member.production.drafts.select_related("production"), number=number)
    response = HttpResponse(draft.upload_bytes(), content_type="text/plain")
    response["Content-Disposition"] = content_disposition_header(True, draft.filename or name_file(draft))
    response["Cache-Control"] = "private, no-store"
    return response


def name_file(draft: Draft) -> str:
    """A file name for a draft that came in without one, as pasted text does."""
    words = slugify(f"{draft.production.name} draft {draft.number} {draft.label}", allow_unicode=True)
    return f"{words}.fountain"
