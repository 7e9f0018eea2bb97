"""Calls within calls, and the memory that CPython keeps for those that are under way.

CPython 3.11 has them in pieces of 16 KB. It takes a piece from the system when a call no longer fits into the last one,
and gives it back when that call returns: a loop that happens to run just where a piece ends does so with each of its
calls, and may take twice its time. A call whose own frame is large gets a piece as large, and what is called within it
fits there too.
"""

from __future__ import annotations

from functools import wraps
from typing import TYPE_CHECKING, ParamSpec, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable

P = ParamSpec("P")
R = TypeVar("R")

# Of the machine's words, in a frame: its piece is 512 KB then, the next power of two, of which the other half is for
# what is called, some thousand calls deep. Only what is written to takes memory; a traceback that is kept and leads
# through the frame keeps as many addresses.
LARGE = 33_000


def in_one_piece(act: Callable[P, R]) -> Callable[P, R]:
    """The same act, with all that it calls in one piece of memory. As Django's middleware it is so for each answer."""

    def call(*args: P.args, **kwargs: P.kwargs) -> R:
        return act(*args, **kwargs)

    call.__code__ = call.__code__.replace(co_stacksize=LARGE)
    return wraps(act)(call)
