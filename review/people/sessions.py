"""Sessions: whose they are, and how far they reach.

A session that began by a link which a writer made for somebody reaches no further than that writer: the productions
they are both in. It is not its person's own, so it chooses no password and shows no e-mail address; and it ends when
the person signs in by themselves, or joins another production.
"""

from __future__ import annotations

from functools import wraps
from typing import TYPE_CHECKING, Concatenate, ParamSpec

from django.conf import settings
from django.contrib.auth import SESSION_KEY, login, logout
from django.contrib.sessions.backends.db import SessionStore
from django.core.exceptions import PermissionDenied
from django.db import DatabaseError, close_old_connections
from django.http import parse_cookie

from review.people.acts import end_link_sessions
from review.people.devices import remember_device
from review.people.models import Person, SignInLink
from review.serving.database_lines import drop_cut_lines

if TYPE_CHECKING:
    from collections.abc import Callable
    from wsgiref.types import WSGIEnvironment

    from django.http import HttpRequest, HttpResponse

P = ParamSpec("P")

SIGN_IN_BACKEND = "allauth.account.auth_backends.AuthenticationBackend"
BY_LINK = "by_link"
NOT_BY_LINK = (
    "You are signed in by a link that somebody else made for you, so no password can be chosen here. Sign out, and ask "
    "for one by “Forgotten?” on the page to sign in."
)

NOT_BY_LINK_JOINED = (
    "You are signed in by a link that somebody else made for you, and it opens only what they can open. Sign out, sign "
    "in by yourself, and open the invitation again."
)


def sign_in(request: HttpRequest, person: Person) -> None:
    """Begin a session of the person's own; what others' links have begun in their name ends."""
    login(request, person, backend=SIGN_IN_BACKEND)
    request.session.pop(BY_LINK, None)
    end_link_sessions(person)
    remember_device(request, person)


def sign_in_by_link(request: HttpRequest, link: SignInLink) -> None:
    """Begin a session as far as the link reaches. Whoever is in a session of their own stays in it."""
    if link.made_by is None:
        sign_in(request, link.person)
    elif request.user != link.person or BY_LINK in request.session:
        login(request, link.person, backend=SIGN_IN_BACKEND)
        request.session[BY_LINK] = link.public_id


def is_by_link(request: HttpRequest) -> bool:
    """Whether the session began by a link that somebody else made."""
    return BY_LINK in request.session


def holds_to_its_link(respond: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    """Middleware that lets a session which began by a link reach as far as it may, and ends it when it is over."""

    def answer(request: HttpRequest) -> HttpResponse:
        if isinstance(request.user, Person) and (public_id := request.session.get(BY_LINK)):
            links = SignInLink.objects.filter(public_id=public_id, person=request.user, ended_at=None)
            link = links.select_related("made_by__person").first()
            if link is None or link.made_by is None:
                logout(request)
            else:
                request.user.seen_by = link.made_by.person
        return respond(request)

    return answer


def not_by_link(
    view: Callable[Concatenate[HttpRequest, P], HttpResponse],
) -> Callable[Concatenate[HttpRequest, P], HttpResponse]:
    """Shuts a view to sessions that are not their person's own."""

    @wraps(view)
    def guarded(request: HttpRequest, *args: P.args, **kwargs: P.kwargs) -> HttpResponse:
        if is_by_link(request):
            raise PermissionDenied(NOT_BY_LINK)
        return view(request, *args, **kwargs)

    return guarded  # type: ignore[return-value]  # Django calls views by position


def is_signed_in(told: WSGIEnvironment) -> bool:
    """Whether a request comes with the session of somebody who signed in; for before Django sees the request."""
    key = parse_cookie(str(told.get("HTTP_COOKIE", ""))).get(settings.SESSION_COOKIE_NAME)
    if not key:
        return False
    close_old_connections()
    drop_cut_lines()
    try:
        return SESSION_KEY in SessionStore(key)
    except DatabaseError:
        return False


def forget_ended_sessions() -> None:
    """Drop those whose time is over. Nobody comes back with them, and nothing else takes them out of the database."""
    SessionStore.clear_expired()
