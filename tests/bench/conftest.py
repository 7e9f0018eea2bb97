"""Every test of this folder measures time: it runs where `-m timing` asks for it, alone on the machine if it can."""

from __future__ import annotations

import gc
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Iterator

HERE = Path(__file__).parent


@pytest.hookimpl(tryfirst=True)  # before those that the mark is asked of are chosen
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if item.path.is_relative_to(HERE):
            item.add_marker(pytest.mark.timing)


@pytest.fixture(scope="session", autouse=True)
def _what_was_loaded_before_is_collected_no_more() -> Iterator[None]:
    """A collection would look through all of it anew, within what is timed and before it."""
    gc.collect()
    gc.freeze()
    yield
    gc.unfreeze()
