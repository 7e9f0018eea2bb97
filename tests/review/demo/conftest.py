"""The demo, loaded once for the tests of a module: they only look at it, and what one of them leaves is taken back."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from django.db import transaction

from review.demo.load import DemoPeople, load_demo

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytest_django import DjangoDbBlocker


@pytest.fixture(scope="module")
def loaded(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[DemoPeople]:
    """Within a transaction that is never committed."""
    with django_db_blocker.unblock(), transaction.atomic():
        people = load_demo()
        with django_db_blocker.block():
            yield people
        transaction.set_rollback(True)


@pytest.fixture
def people(loaded: DemoPeople, db: None) -> DemoPeople:
    return loaded
