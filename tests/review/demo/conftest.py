"""The demo, loaded once for the tests of a module: they only look at it, and what one of them leaves is taken back."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from review.demo.load import DemoPeople, load_demo

if TYPE_CHECKING:
    from pytest_django import DjangoDbBlocker


@pytest.fixture(scope="module")
def loaded(once_a_module: DjangoDbBlocker) -> DemoPeople:
    with once_a_module.unblock():
        return load_demo()


@pytest.fixture
def people(loaded: DemoPeople, db: None) -> DemoPeople:
    return loaded
