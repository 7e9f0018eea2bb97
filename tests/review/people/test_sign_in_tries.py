"""Whose tries to sign in are counted, where another server stands in front."""

from __future__ import annotations

import runpy
from typing import TYPE_CHECKING, Any

import pytest
from django.conf import settings as current
from django.core.cache import cache
from django.test import Client
from django.urls import reverse

if TYPE_CHECKING:
    from collections.abc import Iterator

pytestmark = pytest.mark.django_db

# Addresses that RFC 5737 keeps for examples.
ATTACKER, COLLEAGUE = "192.0.2.7", "198.51.100.4"
FLOOD = 40


@pytest.fixture(autouse=True)
def _no_try_counts_yet() -> Iterator[None]:
    cache.clear()
    yield
    cache.clear()


def tries(times: int, forwarded_for: str) -> list[int]:
    """The answers to so many tries that the server in front passes on."""
    client = Client(headers={"X-Forwarded-For": forwarded_for})
    form = {"password": "x"}
    return [
        client.post(reverse("account_login"), form | {"login": f"{n}@example.org"}).status_code for n in range(times)
    ]


def settings_with(monkeypatch: pytest.MonkeyPatch, behind_https: str) -> dict[str, Any]:
    monkeypatch.setenv("BEHIND_HTTPS", behind_https)
    return runpy.run_path(str(current.BASE_DIR / "project" / "settings.py"))


def test_a_server_said_to_be_in_front_is_believed_once(monkeypatch: pytest.MonkeyPatch) -> None:
    assert settings_with(monkeypatch, "1")["ALLAUTH_TRUSTED_PROXY_COUNT"] == 1
    assert "ALLAUTH_TRUSTED_PROXY_COUNT" not in settings_with(monkeypatch, "")


def test_a_flood_from_one_address_keeps_nobody_else_out(settings: Any) -> None:
    settings.ALLAUTH_TRUSTED_PROXY_COUNT = 1
    assert tries(FLOOD, ATTACKER)[-1] == 429
    assert tries(1, COLLEAGUE) == [200]


def test_an_address_that_the_sender_made_up_is_not_believed(settings: Any) -> None:
    settings.ALLAUTH_TRUSTED_PROXY_COUNT = 1
    answers = [tries(1, f"203.0.113.{n}, {ATTACKER}")[0] for n in range(FLOOD)]
    assert answers[-1] == 429


def test_without_a_server_in_front_nobody_is_believed() -> None:
    answers = [tries(1, f"203.0.113.{n}")[0] for n in range(FLOOD)]
    assert answers[-1] == 429
