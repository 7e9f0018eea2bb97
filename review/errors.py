"""The pages for what went wrong: each says what happened and what to do."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpResponseServerError
from django.shortcuts import render
from django.template.loader import render_to_string

from review.serving.gateway import GIVEN_UP, LEFT_OUT, TOO_LARGE

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.http import HttpRequest, HttpResponse

# Of a request whose body is not here, by why: the status, the page, and the part of a page.
LEFT_OUT_AS = {
    TOO_LARGE: (413, "errors/413.html", "shared/too_large.html"),
    GIVEN_UP: (503, "errors/given_up.html", "shared/given_up.html"),
}


class Withdrawn(Http404):
    """That `what` an address names was withdrawn, for whoever may know that it was there; `instead` is where they can
    go on."""

    def __init__(self, what: str, instead: str) -> None:
        super().__init__(f"{what} was withdrawn")
        self.what = what
        self.instead = instead


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
    withdrawn = exception if isinstance(exception, Withdrawn) else None
    return render(request, "errors/404.html", {"withdrawn": withdrawn}, status=404)


@login_not_required
def server_error(request: HttpRequest) -> HttpResponse:
    return HttpResponseServerError(render_to_string("errors/500.html"))  # without the request: its database may be down


def says_what_was_left_out(respond: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    """Middleware that answers a request whose body is not here, before a view misses what it held: it was too large to
    be taken in, or was given up."""

    def answer(request: HttpRequest) -> HttpResponse:
        why = request.META.get(LEFT_OUT)
        if why not in LEFT_OUT_AS:
            return respond(request)
        status, page, part = LEFT_OUT_AS[why]
        return render(request, part if request.headers.get("HX-Request") else page, status=status)

    return answer


def refuses_nul(respond: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    """Middleware that answers whatever has a NUL in a field, before any view sees it: nobody can type one, and
    PostgreSQL keeps none. What may not be read before its view (`csrf_exempt`) has to see to it itself."""

    def answer(request: HttpRequest) -> HttpResponse:
        return respond(request)

    def process_view(
        request: HttpRequest, view: Callable[..., HttpResponse], args: object, kwargs: object
    ) -> HttpResponse | None:
        sent = [request.GET] if getattr(view, "csrf_exempt", False) else [request.GET, request.POST]
        if not any("\0" in text for fields in sent for _, texts in fields.lists() for text in texts):
            return None
        in_a_page = request.headers.get("HX-Request")
        return render(request, "shared/null_character.html" if in_a_page else "errors/null_character.html", status=400)

    answer.process_view = process_view  # type: ignore[attr-defined]  # where Django looks for it
    return answer
