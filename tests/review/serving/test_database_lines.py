"""A line to PostgreSQL that was cut meanwhile is found out before a request needs it, and nothing is asked for that."""

from __future__ import annotations

from typing import TYPE_CHECKING

import psycopg
import pytest
from django.conf import settings
from django.core.signals import request_started
from django.db import connection
from django.test.utils import CaptureQueriesContext

from review.people.sessions import is_signed_in
from review.serving.database_lines import is_cut
from tests.factories import make_person
from tests.review.sessions import begin_session

if TYPE_CHECKING:
    from collections.abc import Iterator


@pytest.fixture
def line(postgres_url: str) -> Iterator[psycopg.Connection]:
    with psycopg.connect(postgres_url, autocommit=True) as line:
        yield line


def test_a_line_that_is_asked_on_again_and_again_stands(line: psycopg.Connection) -> None:
    for _ in range(10):
        assert line.execute("SELECT 1").fetchone() == (1,)
        assert not is_cut(line)


def test_a_line_that_the_database_ended_is_cut(line: psycopg.Connection, postgres_url: str) -> None:
    with psycopg.connect(postgres_url, autocommit=True) as other:
        other.execute("SELECT pg_terminate_backend(%s, 5000)", [line.info.backend_pid])
    assert is_cut(line)
    line.close()
    assert is_cut(line)


@pytest.mark.django_db(transaction=True)
def test_the_next_request_gets_a_new_line_where_one_was_cut(postgres_url: str, monkeypatch: pytest.MonkeyPatch) -> None:
    connection.ensure_connection()
    monkeypatch.setattr(connection, "close_at", None)  # kept for the next request, as when it is served
    before = connection.connection.info.backend_pid
    with CaptureQueriesContext(connection) as queries:
        request_started.send(None, environ={})
    assert connection.connection.info.backend_pid == before
    assert not queries
    with psycopg.connect(postgres_url, autocommit=True) as other:
        other.execute("SELECT pg_terminate_backend(%s, 5000)", [before])
    request_started.send(None, environ={})
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
    assert connection.connection.info.backend_pid != before


@pytest.mark.django_db(transaction=True)
def test_whoever_sends_much_is_known_as_signed_in_though_the_line_was_cut(
    postgres_url: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """That is asked before Django sees the request."""
    told = {"HTTP_COOKIE": f"{settings.SESSION_COOKIE_NAME}={begin_session(make_person())}"}
    monkeypatch.setattr(connection, "close_at", None)
    with psycopg.connect(postgres_url, autocommit=True) as other:
        other.execute("SELECT pg_terminate_backend(%s, 5000)", [connection.connection.info.backend_pid])
    assert is_signed_in(told)
