"""What an answer needs whose address or page holds a secret."""

from __future__ import annotations

from functools import wraps
from typing import TYPE_CHECKING, Concatenate, ParamSpec

from django.utils.cache import add_never_cache_headers

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.http import HttpRequest, HttpResponse

P = ParamSpec("P")


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
    forwarded = any(name in request.META for name in ("HTTP_X_FORWARDED_FOR", "HTTP_FORWARDED", "HTTP_X_REAL_IP"))
    return request.META.get("REMOTE_ADDR") in {"127.0.0.1", "::1"} and not forwarded
