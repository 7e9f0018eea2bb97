"""The process that does what takes long: how it answers, and how it is given up."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from django.conf import settings

from review.serving.apart import Apart, GivenUp
from review.serving.gateway import environ_of
from review.urls import reads_a_script
from tests.review.serving.test_gateway import scope

if TYPE_CHECKING:
    from collections.abc import Iterator


@pytest.fixture
def apart() -> Iterator[Apart]:
    process = Apart(str(settings.BASE_DIR))
    yield process
    process.end()


@pytest.fixture(autouse=True)
def settings_of_the_project(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DJANGO_SETTINGS_MODULE", "project.settings")


def test_it_answers_as_the_workers_do_one_request_after_another(apart: Apart) -> None:
    for path in (b"/nowhere/", b"/account/sign-up/"):
        answer = apart.answer(environ_of(scope(path=path, headers=[(b"host", b"localhost")])), b"")
        assert answer.status in {404, 200}
        assert b"Fairhand" in answer.body
        assert b"content-security-policy" in dict(answer.headers)


def test_what_takes_too_long_is_given_up_and_the_next_is_begun_afresh() -> None:
    hasty = Apart(str(settings.BASE_DIR), most_seconds=0.01)
    for _ in range(2):
        with pytest.raises(GivenUp):
            hasty.answer(environ_of(scope(path=b"/nowhere/")), b"")


@pytest.mark.parametrize(
    ("method", "path", "expected"),
    [
        ("POST", b"/p/abc/drafts/new/", True),
        ("GET", b"/p/abc/drafts/new/", False),
        ("POST", b"/p/abc/working/put-back/", True),
        ("GET", b"/p/abc/drafts/3/report/", True),
        ("POST", b"/p/abc/people/invite/", False),
        ("POST", b"/nowhere/", False),
        ("POST", b"/p/%FF%00/drafts/new/", True),
        ("POST", b"/%C3", False),
    ],
)
def test_what_brings_a_script_is_done_there(method: str, path: bytes, expected: bool) -> None:
    assert reads_a_script(environ_of(scope(method, path))) is expected
