"""What an answer needs whose address or page holds a secret."""

from __future__ import annotations

from functools import wraps
from typing import TYPE_CHECKING, Concatenate, ParamSpec

from django.conf import settings
from django.utils.cache import add_never_cache_headers

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.http import HttpRequest, HttpResponse

P = ParamSpec("P")
FORWARDED = ("HTTP_FORWARDED", "HTTP_X_FORWARDED", "HTTP_X_REAL_IP", "HTTP_VIA")  # what servers in between add


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


def from_this_machine(request: HttpRequest) -> bool:
    """Whether the request comes from the server's own machine, and through no other server in between."""
    if settings.BEHIND_HTTPS or any(name.startswith(FORWARDED) for name in request.META):
        return False
    return request.META.get("REMOTE_ADDR") in {"127.0.0.1", "::1"}
