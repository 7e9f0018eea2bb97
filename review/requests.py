"""A request as the middleware hands it to a view."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import HttpRequest

if TYPE_CHECKING:
    from django_htmx.middleware import HtmxDetails


class Request(HttpRequest):
    """A request with what htmx says about it; true in itself when htmx sent it."""

    htmx: HtmxDetails
