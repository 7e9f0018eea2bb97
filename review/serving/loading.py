"""What a process loads when it starts, and has as long as it lives."""

from __future__ import annotations

import gc
from contextlib import contextmanager
from pkgutil import resolve_name
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator


@contextmanager
def loaded_for_good() -> Iterator[None]:
    """Look for no garbage in what is loaded within: not meanwhile, which takes a sixth of the time, nor ever after,
    when each look would hold up whoever waits for a page."""
    gc.disable()
    try:
        yield
    finally:
        gc.freeze()
        gc.enable()


def load_application(named: str) -> Any:
    """What a worker serves, named as in "project.asgi:application"."""
    with loaded_for_good():
        return resolve_name(named)
