"""Where the demo is not loaded, and nothing of it either."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from review.demo import load
from review.demo.load import NoSuchPlace, NotEmpty, demo_is_loaded, load_demo
from review.people.models import Person
from review.productions.models import Production
from tests.factories import make_person

if TYPE_CHECKING:
    from screenplay import Span

pytestmark = pytest.mark.django_db


def test_it_goes_into_an_empty_database_only() -> None:
    make_person()
    with pytest.raises(NotEmpty):
        load_demo()
    assert not demo_is_loaded()
    assert not Production.objects.exists()


def test_half_a_demo_is_never_left_behind(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(told: dict[str, Any], lines: object) -> Span:
        raise NoSuchPlace(told["from"])

    monkeypatch.setattr(load, "span_of", broken)
    with pytest.raises(NoSuchPlace):
        load_demo()
    assert not Person.objects.exists()
