"""A request as views get it, the page that its form asks to come back to, and the statuses of one that was refused."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.http import url_has_allowed_host_and_scheme
from django_htmx.http import HttpResponseClientRedirect

if TYPE_CHECKING:
    from django_htmx.middleware import HtmxDetails

INVALID = 422  # what was sent does not hold: the page says what is wrong, where, and has it still
CONFLICT = 409  # something changed meanwhile: the page shows how it stands now
TOO_MANY = 429  # more was sent than anybody can write: the page has it still (RFC 6585)


class Request(HttpRequest):
    """A request with what htmx says about it; true in itself when htmx sent it."""

    htmx: HtmxDetails


def lead_on(request: Request, address: str) -> HttpResponse:
    """To another page, once what was sent is done. Where htmx sent it, the whole browser goes there, and sees it anew
    where that is the page it is on."""
    if not request.htmx:
        return redirect(address)
    response = HttpResponseClientRedirect(address)
    shown = (request.htmx.current_url_abs_path or "").partition("#")[0]
    if "#" in address and address.partition("#")[0] == shown:
        response["HX-Refresh"] = "true"
    return response


LONGEST_ADDRESS = 1_000  # characters of a page to come back to


def page_asked_for(request: HttpRequest) -> str:
    """Where a form asks to come back to, as its field `next` says, if that is a page of this site, by its path."""
    asked = request.POST.get("next", "")
    is_ours = url_has_allowed_host_and_scheme(
        asked, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return asked if is_ours and asked.startswith("/") and len(asked) <= LONGEST_ADDRESS else ""
