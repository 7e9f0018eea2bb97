"""Sessions of people who have signed in before a test begins."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from django.contrib.sessions.models import Session
from django.utils.crypto import get_random_string

from review.people.sessions import SIGN_IN_BACKEND

if TYPE_CHECKING:
    from review.people.models import Person


def begin_session(person: Person) -> str:
    """The key of a session as signing in leaves one, put straight into the database."""
    signed_in = {
        SESSION_KEY: str(person.pk),
        BACKEND_SESSION_KEY: SIGN_IN_BACKEND,
        HASH_SESSION_KEY: person.get_session_auth_hash(),
    }
    key, store = get_random_string(32), SessionStore()
    Session.objects.create(session_key=key, session_data=store.encode(signed_in), expire_date=store.get_expiry_date())
    return key
