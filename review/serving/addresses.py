"""Where a request comes from, as far as that can be believed."""

from __future__ import annotations

from contextvars import ContextVar
from ipaddress import ip_address
from typing import TYPE_CHECKING

from django.conf import settings

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from django.http import HttpRequest, HttpResponse

UNKNOWN = ""

_asked_from: ContextVar[str] = ContextVar("asked_from", default=UNKNOWN)


def asked_from() -> str:
    """The address of whoever asks for what is being done; "" where nobody does, or it is not known."""
    return _asked_from.get()


def tells_where_from(respond: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    """Middleware that lets whatever is done for a request know its address, without its being handed down."""

    def answer(request: HttpRequest) -> HttpResponse:
        token = _asked_from.set(address_of(request.META, behind_proxy=settings.BEHIND_HTTPS))
        try:
            return respond(request)
        finally:
            _asked_from.reset(token)

    return answer


def address_of(told: Mapping[str, object], *, behind_proxy: bool) -> str:
    """The IP address of whoever sent a request; "" where none is known.

    `told` is what a WSGI server says of the request. Behind a server of ours the address is the last one of
    X-Forwarded-For, which that server added itself; whatever stands before it, or comes without such a server, anybody
    can have written.
    """
    forwarded = str(told.get("HTTP_X_FORWARDED_FOR", "")) if behind_proxy else ""
    for candidate in (forwarded.rpartition(",")[2].strip(), str(told.get("REMOTE_ADDR", ""))):
        try:
            return str(ip_address(candidate))
        except ValueError:
            continue
    return UNKNOWN
