"""The short way to "nothing new": one query, and 304.

Nearly every time that an open page asks, nothing has happened. So whoever was answered is remembered for a while, with
what the answer followed from, and with what their session and their place in the production then were. When the same
session asks the same again, one query looks whether all of that still stands, in the database and at this moment: the
session, the person and their password, their place and their role, the link that they came in by; and whether the
figures are what they were. Where anything is other, or nothing is remembered, the request takes its way through
everything that any request passes. So what is remembered opens nothing: whoever has signed out, or was removed, gets
nothing by it.

The figures count what was done by anybody. So for a reader from whom the others' words are kept, they lead to the long
way when others speak, and there to the same answer as before.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from django.conf import settings
from django.contrib.auth import HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from django.contrib.sessions.models import Session
from django.db import connection
from django.db.models import Count, Exists, Subquery
from django.db.models.functions import Now
from django.http import HttpResponseNotModified

from review.access import Role
from review.kept import MIB, Store
from review.log import Act
from review.news.happened import scenes_read
from review.news.present import stirred, visits_at
from review.people.models import Member, SignInLink
from review.people.sessions import BY_LINK

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import datetime

    from django.db.models import QuerySet
    from django.http import HttpRequest, HttpResponse

    from review.news.present import PageInView

REMEMBERED = Store(8 * MIB)
NEWS = {"news", "script-news"}  # what the addresses are called
NOT_MODIFIED = 304
WEIGHT = 4000  # bytes of one, with its key, as measured


@dataclass(frozen=True, slots=True)
class Asker:
    """Who asks, in which session, and since when and of which page they want to know."""

    session: str
    member: int
    person: int
    production: int
    role: str
    link: str
    since: datetime
    page: PageInView | None

    @classmethod
    def of(cls, request: HttpRequest, member: Member, since: datetime, page: PageInView | None) -> Asker:
        link = request.session.get(BY_LINK, "")
        session = request.session.session_key or ""
        return cls(session, member.pk, member.person_id, member.production_id, member.role, link, since, page)

    def question(self) -> WrittenQuery:
        """How everything stands that an answer to them follows from, as one query: no row, or a row without a session,
        where they may not ask."""
        sessions = Session.objects.filter(session_key=self.session, expire_date__gt=Now())
        figures = self._figures()
        found = self._members().annotate(session=Subquery(sessions.values("session_data")), **figures).order_by()
        return WrittenQuery(*found.values_list("session", "person__password", *figures).query.sql_with_params())

    def _figures(self) -> dict[str, Subquery]:
        """How many acts there were, how many scenes were read if they are a writer, and whom the page in view has."""
        acts = Act.objects.filter(production_id=self.production, at__gt=self.since).order_by()
        figures = {"acts": Subquery(acts.values("production").annotate(count=Count("pk")).values("count"))}
        if self.role == Role.WRITER:
            read = scenes_read(self.production, self.since).values("reader__reading__production")
            figures["read"] = Subquery(read.annotate(count=Count("pk")).values("count"))
        if self.page:
            figures["here"] = stirred(visits_at(self.page, self.production, self.member))
        return figures

    def _members(self) -> QuerySet[Member]:
        """Their place in the production, as long as it is open to them."""
        found = Member.objects.filter(
            pk=self.member,
            person_id=self.person,
            production_id=self.production,
            role=self.role,
            removed_at=None,
            person__is_active=True,
        )
        if not self.link:
            return found
        links = SignInLink.objects.filter(
            public_id=self.link,
            person_id=self.person,
            ended_at=None,
            made_by__person__memberships__production_id=self.production,
            made_by__person__memberships__removed_at=None,
        )
        return found.filter(Exists(links))


@dataclass(frozen=True, slots=True)
class WrittenQuery:
    """A query as the database gets it: it is asked every few seconds, and writing it takes longer than answering it."""

    sql: str
    params: tuple[Any, ...]

    def answer(self) -> Ground | None:
        with connection.cursor() as cursor:
            cursor.execute(self.sql, self.params)
            row = cursor.fetchone()
        return None if row is None or row[0] is None else Ground(row[0], row[1], row[2:])


@dataclass(frozen=True, slots=True)
class Ground:
    """The session and the password of whoever asks, and the figures that are others when something has happened."""

    session: str
    password: str
    figures: tuple[object, ...]

    @property
    def digest(self) -> bytes:
        """All of it in short: no password and no session lies about in memory."""
        return hashlib.blake2b(repr(self).encode(), digest_size=16).digest()


@dataclass(frozen=True, slots=True)
class Inquiry:
    """A question, and how everything stood before its answer was made: what happens meanwhile makes the next question
    take the long way. `link` is that of the session."""

    question: WrittenQuery
    ground: Ground | None
    link: str

    @property
    def acts(self) -> int | None:
        """How many acts there were since then, of anybody; None where their session is not in the database."""
        if self.ground is None:
            return None
        acts = self.ground.figures[0]
        return acts if isinstance(acts, int) else 0

    @classmethod
    def by(cls, request: HttpRequest, member: Member, since: datetime, page: PageInView | None) -> Inquiry:
        asker = Asker.of(request, member, since, page)
        question = asker.question()
        return cls(question, question.answer(), asker.link)


@dataclass(frozen=True, slots=True)
class Remembered:
    """What was answered, to which question, and what it followed from."""

    question: WrittenQuery
    etag: str
    digest: bytes


def remember(request: HttpRequest, member: Member, asked: Inquiry, etag: str) -> None:
    """Remember what was answered, if the session is the member's own."""
    ground, link = asked.ground, asked.link
    if ground is None or ground.password != member.person.password:
        return
    session = SessionStore().decode(ground.session)
    is_theirs = session.get(SESSION_KEY) == str(member.person_id) and session.get(BY_LINK, "") == link
    if is_theirs and session.get(HASH_SESSION_KEY) == member.person.get_session_auth_hash():
        REMEMBERED.keep(_key(request), Remembered(asked.question, etag, ground.digest), WEIGHT)


def _key(request: HttpRequest) -> tuple[str, str]:
    return request.COOKIES.get(settings.SESSION_COOKIE_NAME, ""), request.get_full_path()


def _nothing_new(etag: str) -> HttpResponse:
    """The same answer whichever way it came: else whoever reads alone could tell by it that others have spoken."""
    return HttpResponseNotModified(headers={"ETag": etag})


def answers_idle_pages(respond: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    """Middleware that answers an open page to which nothing has happened, before any other looks at the request."""

    def answer(request: HttpRequest) -> HttpResponse:
        etag = request.headers.get("If-None-Match", "").removeprefix("W/")  # so it is called once it was compressed
        known = REMEMBERED.find(_key(request)) if etag and request.method == "GET" else None
        if isinstance(known, Remembered) and known.etag == etag:
            ground = known.question.answer()
            if ground is not None and ground.digest == known.digest:
                return _nothing_new(etag)
        response = respond(request)
        came_here = request.resolver_match is not None and request.resolver_match.url_name in NEWS
        return _nothing_new(response["ETag"]) if came_here and response.status_code == NOT_MODIFIED else response

    return answer
