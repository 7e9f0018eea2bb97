"""What is kept of what was worked out, so that it is worked out once: in each process, within a bound in bytes.

All of it shares the bound, and what was not asked for the longest goes first. How heavy something is, is told by
whoever keeps it; what is heavier than the bound is not kept at all.
"""

from __future__ import annotations

from collections import OrderedDict
from functools import wraps
from threading import Lock
from typing import TYPE_CHECKING, ParamSpec, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable

P = ParamSpec("P")
R = TypeVar("R")

MIB = 1024 * 1024
MOST_BYTES = 128 * MIB  # in each process: two that serve, and one each that reads scripts for them


class Store:
    """Values by their keys, of so many bytes at the most."""

    def __init__(self, most_bytes: int = MOST_BYTES) -> None:
        self.most_bytes = most_bytes
        self.bytes = 0
        self._values: OrderedDict[Hashable, tuple[object, int]] = OrderedDict()
        self._lock = Lock()

    def __len__(self) -> int:
        return len(self._values)

    def find(self, key: Hashable) -> object | None:
        """The value of a key, asked for just now; None where there is none."""
        with self._lock:
            if key not in self._values:
                return None
            self._values.move_to_end(key)
            return self._values[key][0]

    def keep(self, key: Hashable, value: object, weight: int) -> None:
        """Keep a value, and let go of what was not asked for the longest until there is room for it."""
        with self._lock:
            self._drop(key)
            if weight > self.most_bytes:
                return
            self._values[key] = value, weight
            self.bytes += weight
            while self.bytes > self.most_bytes:
                self._drop(next(iter(self._values)))

    def clear(self) -> None:
        """Let go of all of it, as in a process that was just begun."""
        with self._lock:
            self._values.clear()
            self.bytes = 0

    def _drop(self, key: Hashable) -> None:
        if key in self._values:
            self.bytes -= self._values.pop(key)[1]


STORE = Store()


def kept(weigh: Callable[[R], int], store: Store = STORE) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """Keeps a function's values by its arguments, which are hashable and given by their places.

    `weigh` tells a value's bytes, with those of its arguments if they are kept along. Two who ask at the same moment
    may both work it out. A function of this kind never gives None.
    """

    def decorate(function: Callable[P, R]) -> Callable[P, R]:
        @wraps(function)
        def keeping(*args: P.args, **kwargs: P.kwargs) -> R:
            key = (function, args, tuple(sorted(kwargs.items())))
            found = store.find(key)
            if found is None:
                value = function(*args, **kwargs)
                store.keep(key, value, weigh(value))
                return value
            return found  # type: ignore[return-value]  # what was kept under this key is what the function gave

        return keeping

    return decorate
