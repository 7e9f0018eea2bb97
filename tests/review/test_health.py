"""Whether the app says that it can work."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from django.db import DatabaseError, connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from review.health import Pulse, pulses

if TYPE_CHECKING:
    from collections.abc import Iterator

    from django.test.client import _MonkeyPatchedWSGIResponse


def ask(**options: bool) -> _MonkeyPatchedWSGIResponse:
    return Client(**options).get("/healthy/")  # type: ignore[arg-type]


@pytest.mark.django_db
def test_it_answers_anyone_and_tells_nothing_else() -> None:
    response = ask()
    assert (response.status_code, response.content) == (200, b"healthy\n")
    assert "no-store" in response.headers["Cache-Control"]
    assert "Set-Cookie" not in response.headers


@pytest.fixture(autouse=True)
def _nothing_was_written_a_moment_ago() -> Iterator[None]:
    pulses.forget()
    yield
    pulses.forget()


@pytest.mark.django_db
def test_it_is_unwell_when_the_database_is_gone() -> None:
    def refuse(*args: object) -> None:
        raise DatabaseError("gone")

    with connection.execute_wrapper(refuse):
        answer = ask()
    assert (answer.status_code, answer.text) == (503, "unwell: nothing can be written\n")


@pytest.mark.django_db(transaction=True)
def test_it_is_unwell_when_nothing_can_be_written() -> None:
    """The database answers, and refuses to write, as SQLite and PostgreSQL do when they are told to."""
    on_sqlite = connection.vendor == "sqlite"
    shut, opened = (
        ("PRAGMA query_only = ON", "PRAGMA query_only = OFF")
        if on_sqlite
        else ("SET default_transaction_read_only = on", "SET default_transaction_read_only = off")
    )
    assert ask().status_code == 200
    pulses.forget()
    with connection.cursor() as cursor:
        cursor.execute(shut)
        try:
            assert ask().status_code == 503
        finally:
            cursor.execute(opened)
    assert ask().status_code == 200


@pytest.mark.django_db
def test_asked_often_it_writes_now_and_then() -> None:
    for _ in range(5):
        ask()
    with CaptureQueriesContext(connection) as captured:
        assert ask().status_code == 200
    assert len(captured) == 0
    assert Pulse.objects.count() == 1


@pytest.mark.django_db
def test_it_takes_nothing_in() -> None:
    assert Client().post("/healthy/").status_code == 405
