"""Every test of this folder measures time: it runs where `-m timing` asks for it, alone on the machine if it can."""

from __future__ import annotations

import gc
from pathlib import Path

import pytest

HERE = Path(__file__).parent


@pytest.hookimpl(tryfirst=True)  # before those that the mark is asked of are chosen
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if item.path.is_relative_to(HERE):
            item.add_marker(pytest.mark.timing)


@pytest.fixture(autouse=True)
def nothing_left_to_look_through() -> None:
    """What tests before left in memory, such as scripts that are kept, no collection in this one looks through: it
    would add to a time, and more to that of a long text."""
    gc.collect()
    gc.freeze()
