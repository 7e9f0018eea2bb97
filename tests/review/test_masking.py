"""What the lines of the terminal say, and what they keep to themselves."""

from __future__ import annotations

import logging
import re
import sys

import pytest
from django.test import RequestFactory

from review.masking import PlainLines, mask

SECRET = "Zk3-secret_Token"
LINE = re.compile(r"^\d{4}-\d\d-\d\d \d\d:\d\d:\d\d (\S+) (.*)", re.DOTALL)


def line(message: str, *, forwarded: str = "", failed: str = "") -> str:
    record = logging.LogRecord("django.request", logging.WARNING, "", 0, message, None, None)
    record.request = RequestFactory(REMOTE_ADDR="192.0.2.7", HTTP_X_FORWARDED_FOR=forwarded).get("/")
    if failed:
        try:
            raise ValueError(failed)
        except ValueError:
            record.exc_info = sys.exc_info()
    return PlainLines().format(record)


def test_a_line_says_when_and_from_where() -> None:
    said = LINE.match(line("Not Found: /nowhere/"))
    assert said
    assert said.groups() == ("192.0.2.7", "Not Found: /nowhere/")


def test_behind_another_server_it_says_which_address_that_one_saw(settings: pytest.FixtureRequest) -> None:
    settings.BEHIND_HTTPS = True  # type: ignore[attr-defined]
    said = LINE.match(line("Not Found: /nowhere/", forwarded="203.0.113.9, 198.51.100.4"))
    assert said
    assert said.group(1) == "198.51.100.4"


def test_a_line_of_what_nobody_asked_for_says_so() -> None:
    record = logging.LogRecord("review", logging.WARNING, "", 0, "The disk is full.", None, None)
    said = LINE.match(PlainLines().format(record))
    assert said
    assert said.groups() == ("-", "The disk is full.")


@pytest.mark.parametrize("way", ["join", "in", "account/password/forgotten"])
def test_neither_a_line_nor_its_traceback_lets_anybody_in(way: str) -> None:
    said = line(f"Internal Server Error: /{way}/{SECRET}/", failed=f"No room for /{way}/{SECRET}/")
    assert SECRET not in said
    assert said.count(f"/{way}/…/") == 2


def test_what_is_no_secret_stays() -> None:
    assert (
        mask("/account/password/forgotten/sent/ /p/abc/people/") == "/account/password/forgotten/sent/ /p/abc/people/"
    )
