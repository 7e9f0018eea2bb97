"""Devices that somebody has signed in from: others who guess at their password do not lock them out there.

The way is that of OWASP's page on slowing down online guessing with device cookies (from memory): a signed cookie says
for whom this device is known, and tries from it are counted by themselves.
"""

from __future__ import annotations

import secrets
from typing import TYPE_CHECKING

from django.conf import settings
from django.core import signing

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.http import HttpRequest, HttpResponse

    from review.people.models import Person

KNOWN_FOR = 60 * 60 * 24 * 180  # seconds
SALT = "review.people.devices"


def _cookie_of(person: Person) -> str:
    return f"{settings.COOKIES_OF_THIS_HOST}device-{person.public_id}"


def known_device(request: HttpRequest, person: Person | None) -> str:
    """A name for the device that a request comes from, if the person signed in from it; "" where they did not.

    It is forgotten with the password that it was known by.
    """
    cookie = request.COOKIES.get(_cookie_of(person)) if person else None
    if not cookie or not person:
        return ""
    try:
        known = signing.loads(cookie, salt=SALT, max_age=KNOWN_FOR)
    except signing.BadSignature:
        return ""
    return str(known["device"]) if known["of"] == _of(person) else ""


def _of(person: Person) -> str:
    return f"{person.public_id} {person.get_session_auth_hash()}"


def remember_device(request: HttpRequest, person: Person) -> None:
    """Let the answer to this request tell the device that it is known from now on."""
    request.META[SALT] = person


def remembers_devices(respond: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    """Middleware that sends the cookie of a device that has become known."""

    def answer(request: HttpRequest) -> HttpResponse:
        response = respond(request)
        person: Person | None = request.META.get(SALT)
        if person is not None:
            device = {"of": _of(person), "device": secrets.token_urlsafe(12)}
            response.set_cookie(
                _cookie_of(person),
                signing.dumps(device, salt=SALT),
                max_age=KNOWN_FOR,
                path="/",
                secure=settings.BEHIND_HTTPS,
                httponly=True,
                samesite="Lax",
            )
        return response

    return answer
