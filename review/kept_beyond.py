"""What was worked out is kept beyond the process too: in Django's cache of files, within bytes and safe to delete."""

from __future__ import annotations

import hashlib
from functools import cache, wraps
from pathlib import Path
from typing import TYPE_CHECKING, ParamSpec, TypeVar

from django.conf import settings
from django.core.cache import caches

if TYPE_CHECKING:
    from collections.abc import Callable

P = ParamSpec("P")
R = TypeVar("R")

SOURCES = {"screenplay": ("*.py", "*.lark", "*.txt", "*.toml"), "review": ("*.py",), "templates": ("*.html",)}


def kept_beyond(function: Callable[P, R]) -> Callable[P, R]:
    """Keeps a function's values by its arguments, whose `repr` tells them apart, for every process of this release.

    A value is one that pickles. A function of this kind never gives None.
    """

    @wraps(function)
    def keeping(*args: P.args, **kwargs: P.kwargs) -> R:
        told = f"{function.__module__}.{function.__qualname__} {args!r} {sorted(kwargs.items())!r}"
        key = f"{release()}:{hashlib.sha256(told.encode()).hexdigest()}"
        found: R | None = caches["pages"].get(key)
        if found is None:
            found = function(*args, **kwargs)
            caches["pages"].set(key, found)
        return found

    return keeping


@cache
def release() -> str:
    """A name for the program as it is, which another release of it does not have: what that one kept is not found."""
    folders = ((Path(settings.BASE_DIR) / folder, patterns) for folder, patterns in SOURCES.items())
    files = [file for folder, patterns in folders for pattern in patterns for file in sorted(folder.rglob(pattern))]
    digest = hashlib.sha256()
    for file in files:
        digest.update(file.read_bytes())
    return digest.hexdigest()[:16]
