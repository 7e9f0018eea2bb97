"""An event loop that has a thread to itself.

A browser driven in the same process leaves its own loop running in the main thread, where no second one may start.
"""

from __future__ import annotations

import asyncio
from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    from collections.abc import Coroutine


Answer = TypeVar("Answer")


def in_a_loop_of_its_own(work: Coroutine[Any, Any, Answer]) -> Answer:
    """What the coroutine returns or raises, run to its end in another thread."""
    with ThreadPoolExecutor(max_workers=1) as thread:
        return thread.submit(asyncio.run, work).result()
