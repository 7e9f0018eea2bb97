"""What an answer needs whose address or page holds a secret."""

from __future__ import annotations

from functools import wraps
from ipaddress import ip_address
from typing import TYPE_CHECKING, Concatenate, ParamSpec
from urllib.parse import urlsplit

from django.conf import settings
from django.urls import reverse
from django.utils.cache import add_never_cache_headers

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.http import HttpRequest, HttpResponse

P = ParamSpec("P")
# What servers in between add, by the beginnings of its names (RFC 7239, RFC 9110, and common practice).
ADDED_IN_BETWEEN = (
    "HTTP_FORWARDED",
    "HTTP_VIA",
    "HTTP_X_FORWARDED",
    "HTTP_X_REAL_IP",
    "HTTP_X_ORIGINAL",
    "HTTP_X_CLIENT",
    "HTTP_X_CLUSTER",
    "HTTP_X_REQUEST_ID",
    "HTTP_TRUE_CLIENT",
    "HTTP_CLIENT_IP",
    "HTTP_CF_",
    "HTTP_CDN_",
)


def holds_a_secret(
    view: Callable[Concatenate[HttpRequest, P], HttpResponse],
) -> Callable[Concatenate[HttpRequest, P], HttpResponse]:
    """The answer is kept by no cache, and its address is told to no other site, nor to any page of ours.

    The policy sends no more than our own name. With none at all a browser posts the form from nowhere, and the
    protection against forged forms turns it away.
    """

    @wraps(view)
    def kept_secret(request: HttpRequest, *args: P.args, **kwargs: P.kwargs) -> HttpResponse:
        response = view(request, *args, **kwargs)
        add_never_cache_headers(response)
        response["Referrer-Policy"] = "strict-origin"
        return response

    return kept_secret  # type: ignore[return-value]  # Django calls views by position


def keeps_no_copies(respond: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    """Middleware that lets no browser and no server in between keep an answer, unless its view says what they may keep.

    Whoever sits down at a device after somebody signed out finds no page of the script in what it has kept: what a
    browser was allowed to keep, it is told to drop (Clear-Site-Data, W3C), and what our scripts kept there.
    """

    def answer(request: HttpRequest) -> HttpResponse:
        response = respond(request)
        response.headers.setdefault("Cache-Control", "private, no-store")
        if request.method == "POST" and request.path == reverse("account_logout"):
            response["Clear-Site-Data"] = '"cache", "storage"'
        return response

    return answer


def from_this_machine(request: HttpRequest) -> bool:
    """Whether the request comes from the server's own machine, by a name of this machine, and through no other server.

    A server in between gives itself away by what it adds, or by speaking an older HTTP than any browser; and if it is
    silent, by the name that it is reached by, which whoever asked has opened.
    """
    if settings.BEHIND_HTTPS or any(name.startswith(ADDED_IN_BETWEEN) for name in request.META):
        return False
    if request.META.get("SERVER_PROTOCOL", "HTTP/1.1") not in {"HTTP/1.1", "HTTP/2"}:
        return False
    named = [request.META.get(name, "") for name in ("HTTP_HOST", "HTTP_ORIGIN", "HTTP_REFERER")]
    return request.META.get("REMOTE_ADDR") in {"127.0.0.1", "::1"} and all(
        is_this_machine(host) for host in named if host
    )


def is_this_machine(host: str) -> bool:
    """Whether an address, with its port or without, leads to the machine that it is opened on, whichever that is."""
    address = host if "://" in host else f"//{host}"
    try:
        name = (urlsplit(address).hostname or "").removesuffix(".")
        if name == "localhost" or name.endswith(".localhost"):  # RFC 6761, 6.3
            return True
        return ip_address(name).is_loopback
    except ValueError:
        return False
