"""Every test of this folder measures time: it runs where `-m timing` asks for it, alone on the machine if it can."""

from __future__ import annotations

from pathlib import Path

import pytest

HERE = Path(__file__).parent


@pytest.hookimpl(tryfirst=True)  # before those that the mark is asked of are chosen
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if item.path.is_relative_to(HERE):
            item.add_marker(pytest.mark.timing)
