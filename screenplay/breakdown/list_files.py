"""The files of `word_lists/`, which hold what this room knows of English words, each read once."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

_FOLDER = Path(__file__).parent / "word_lists"


@cache
def list_file(name: str) -> dict[str, Any]:
    """A file by its name, as TOML has it."""
    return tomllib.loads((_FOLDER / f"{name}.toml").read_text(encoding="utf-8"))


@cache
def plain_words(name: str, table: str, key: str) -> frozenset[str]:
    """The words of a list in which they are parted by spaces and stand for themselves alone."""
    return frozenset(list_file(name)[table][key].split())
