"""What a session says of whose it is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.conf import settings
from django.contrib.auth import SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from django.db import DatabaseError, close_old_connections
from django.http import parse_cookie

if TYPE_CHECKING:
    from wsgiref.types import WSGIEnvironment


def is_signed_in(told: WSGIEnvironment) -> bool:
    """Whether a request comes with the session of somebody who signed in; for before Django sees the request."""
    key = parse_cookie(str(told.get("HTTP_COOKIE", ""))).get(settings.SESSION_COOKIE_NAME)
    if not key:
        return False
    close_old_connections()
    try:
        return SESSION_KEY in SessionStore(key)
    except DatabaseError:
        return False
