"""The app's addresses, and that of a bare page: so many bytes, held ready, through the same middleware."""

from __future__ import annotations

from functools import cache

from django.http import HttpRequest, HttpResponse
from django.urls import include, path

from tests.plays import play_as_fountain


@cache
def page_of(size: int) -> bytes:
    """Words, which can be compressed as pages can."""
    words = play_as_fountain("hamlet").encode()
    return (words * (size // len(words) + 1))[:size]


def bare(request: HttpRequest, size: int) -> HttpResponse:
    return HttpResponse(page_of(size))


urlpatterns = [path("bare/<int:size>/", bare), path("", include("project.urls"))]
