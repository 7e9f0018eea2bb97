"""The pages for what went wrong: each says what happened and what to do."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib.auth.decorators import login_not_required
from django.http import HttpResponseServerError
from django.shortcuts import render
from django.template.loader import render_to_string

from review.serving.gateway import BODY_TOO_LARGE

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.http import HttpRequest, HttpResponse


@login_not_required
def bad_request(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    return render(request, "errors/400.html", status=400)


@login_not_required
def forbidden(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    return render(request, "errors/403.html", {"reason": str(exception or "")}, status=403)


@login_not_required
def not_from_here(request: HttpRequest, reason: str = "") -> HttpResponse:
    """For a form without the proof that it is ours: mostly one from before its sender signed in or out."""
    return render(request, "errors/not_from_here.html", status=403)


@login_not_required
def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    return render(request, "errors/404.html", status=404)


@login_not_required
def server_error(request: HttpRequest) -> HttpResponse:
    return HttpResponseServerError(render_to_string("errors/500.html"))  # without the request: its database may be down


def without_bodies_too_large(
    respond: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Middleware that answers a request whose body was too large to be taken in, before a view misses what it held."""

    def answer(request: HttpRequest) -> HttpResponse:
        if BODY_TOO_LARGE in request.META:
            part = "parts/too_large.html" if request.headers.get("HX-Request") else "errors/413.html"
            return render(request, part, status=413)
        return respond(request)

    return answer
