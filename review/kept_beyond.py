"""What was worked out is kept beyond the process too: in the files of `kept_files`, for all processes of a release."""

from __future__ import annotations

import hashlib
from functools import cache, wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, ParamSpec, Protocol, TypeVar

from django.conf import settings
from django.core.cache import caches

if TYPE_CHECKING:
    from collections.abc import Callable

P = ParamSpec("P")
R = TypeVar("R")
R_co = TypeVar("R_co", covariant=True)

FILES = "pages"  # the cache, by its name in the settings
SOURCES = {"screenplay": ("*.py", "*.lark", "*.txt", "*.toml"), "review": ("*.py",), "templates": ("*.html",)}


class KeptBeyond(Protocol[P, R_co]):
    """A function whose values are kept beyond the process."""

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> R_co: ...

    def is_kept(self, *args: P.args, **kwargs: P.kwargs) -> bool:
        """Whether its value is there to be had, without working anything out."""


def kept_beyond(function: Callable[P, R]) -> KeptBeyond[P, R]:
    """Keeps a function's values by its arguments, whose `repr` tells them apart, for every process of this release.

    A value is one that pickles. A function of this kind never gives None.
    """

    def key(*args: P.args, **kwargs: P.kwargs) -> str:
        told = f"{function.__module__}.{function.__qualname__} {args!r} {sorted(kwargs.items())!r}"
        return hashlib.sha256(told.encode()).hexdigest()

    @wraps(function)
    def keeping(*args: P.args, **kwargs: P.kwargs) -> R:
        name = key(*args, **kwargs)
        found: R | None = find(name)
        if found is None:
            found = function(*args, **kwargs)
            keep(name, found)
        return found

    keeping.is_kept = lambda *args, **kwargs: _of_release(key(*args, **kwargs)) in caches[FILES]  # type: ignore[attr-defined]
    return keeping  # type: ignore[return-value]  # it has `is_kept` by now


def find(name: str) -> Any:
    """What this release keeps by a name; None where there is nothing."""
    return caches[FILES].get(_of_release(name))


def keep(name: str, value: object) -> None:
    """Keep what pickles by a name, for every process of this release, in the place of what was kept by it."""
    caches[FILES].set(_of_release(name), value)


def _of_release(name: str) -> str:
    return f"{release()}:{name}"


@cache
def release() -> str:
    """A name for the program as it is, which another release of it does not have: what that one kept is not found."""
    folders = ((Path(settings.BASE_DIR) / folder, patterns) for folder, patterns in SOURCES.items())
    files = [file for folder, patterns in folders for pattern in patterns for file in sorted(folder.rglob(pattern))]
    digest = hashlib.sha256()
    for file in files:
        digest.update(file.read_bytes())
    return digest.hexdigest()[:16]
