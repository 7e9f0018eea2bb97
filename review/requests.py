"""A request as views get it, the page that its form asks to come back to, and the statuses of one that was refused."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import HttpRequest
from django.utils.http import url_has_allowed_host_and_scheme

if TYPE_CHECKING:
    from django_htmx.middleware import HtmxDetails

INVALID = 422  # what was sent does not hold: the page says what is wrong, where, and has it still
CONFLICT = 409  # something changed meanwhile: the page shows how it stands now
TOO_MANY = 429  # more was sent than anybody can write: the page has it still (RFC 6585)


class Request(HttpRequest):
    """A request with what htmx says about it; true in itself when htmx sent it."""

    htmx: HtmxDetails


LONGEST_ADDRESS = 1_000  # characters of a page to come back to


def page_asked_for(request: HttpRequest) -> str:
    """Where a form asks to come back to, as its field `next` says, if that is a page of this site, by its path."""
    asked = request.POST.get("next", "")
    is_ours = url_has_allowed_host_and_scheme(
        asked, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return asked if is_ours and asked.startswith("/") and len(asked) <= LONGEST_ADDRESS else ""
