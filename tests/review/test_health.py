"""Whether the app says that it can work."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from django.db import DatabaseError, connection
from django.test import Client

if TYPE_CHECKING:
    from django.test.client import _MonkeyPatchedWSGIResponse


def ask(**options: bool) -> _MonkeyPatchedWSGIResponse:
    return Client(**options).get("/healthy/")  # type: ignore[arg-type]


@pytest.mark.django_db
def test_it_answers_anyone_and_tells_nothing_else() -> None:
    response = ask()
    assert (response.status_code, response.content) == (200, b"healthy\n")
    assert "no-store" in response.headers["Cache-Control"]
    assert "Set-Cookie" not in response.headers


@pytest.mark.django_db
def test_it_asks_the_database() -> None:
    def refuse(*args: object) -> None:
        raise DatabaseError("gone")

    with connection.execute_wrapper(refuse):
        assert ask(raise_request_exception=False).status_code == 500


@pytest.mark.django_db
def test_it_takes_nothing_in() -> None:
    assert Client().post("/healthy/").status_code == 405
